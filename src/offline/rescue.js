// The last resort: what to do when the program does not start, or stops. Needs no WebAssembly, and nothing of the rest.

(() => {
  const PREFIX = 'comb-scale/';
  const PATIENCE_MS = 30_000;
  let started = false;
  let shown = false;
  /** What was said before the program was there. */
  let early;

  const make = (kind, text, more = {}) => Object.assign(document.createElement(kind), { textContent: text }, more);

  const bare = (key) => key.slice(PREFIX.length);

  /** Saves the raw text under a key of this page's storage. */
  function save(key) {
    const url = URL.createObjectURL(new Blob([localStorage.getItem(key)], { type: 'text/plain;charset=utf-8' }));
    const name = bare(key).replace(/[^\p{L}\p{N}-]+/gu, ' ').trim().slice(0, 60);
    make('a', '', { href: url, download: `${name || 'record'}.spraytest.txt` }).click();
    setTimeout(() => URL.revokeObjectURL(url), 10_000);
  }

  /** The name a person gave, where the text can be read. */
  function nameOf(key) {
    try {
      return JSON.parse(localStorage.getItem(key)).title || bare(key);
    } catch {
      return bare(key);
    }
  }

  function records() {
    try {
      // Tests before what goes with them.
      const rank = (key) => (/^comb-scale\/(test|slip|aside)\//.test(key) ? 0 : 1);
      const keys = Object.keys(localStorage).filter((key) => key.startsWith(PREFIX)).sort((a, b) => rank(a) - rank(b));
      if (keys.length === 0) return [make('p', 'Nothing is kept in this browser.')];
      return keys.map((key) => {
        const line = make('p', '');
        line.append(make('button', `Save “${nameOf(key)}”`, { onclick: () => save(key) }));
        return line;
      });
    } catch {
      return [make('p', 'This browser does not let the page read what it kept.')];
    }
  }

  async function goBack() {
    const { port1, port2 } = new MessageChannel();
    const done = new Promise((heard) => { port1.onmessage = heard; });
    navigator.serviceWorker.controller.postMessage('back', [port2]);
    await done;
    location.reload();
  }

  function show(what) {
    if (shown) return;
    if (!document.body) return void addEventListener('DOMContentLoaded', () => show(what));
    shown = true;
    document.getElementById('first')?.remove();
    // Alone on the page, or above one that has stopped.
    const part = make(started ? 'section' : 'main', '', { className: 'notice alert' });
    const said = make('div', '', { role: 'alert' });
    said.append(
      make(started ? 'h2' : 'h1', what),
      make('p', ['Everything that was stored is still in this browser.', !globalThis.tooOld && 'Load the page again. If that does not help, save', globalThis.tooOld && 'Save', 'what is here as files; they open again in a page that works.'].filter(Boolean).join(' ')),
    );
    part.append(said, make('button', 'Load the page again', { className: 'accent', onclick: () => location.reload() }));
    if (navigator.serviceWorker?.controller && !globalThis.combScale?.whole) {
      part.append(' ', make('button', 'Go back to the version before', { onclick: goBack }));
    }
    part.append(...records());
    document.body.prepend(part);
    scrollTo(0, 0);
    if (!started) early = part;
  }

  /** A browser gives a page that is opened from a file neither its program nor a place to keep anything. */
  function sayFile() {
    document.getElementById('first').append(
      make('p', 'This page was opened from a file, and browsers run no program from there. Open it by its web address. On the computer that has its source, type “make run” there and open the address it names.', { className: 'notice alert' }),
    );
  }

  /** What is being typed outlives a program that can store nothing any more: kept as `src/store/left.rs` keeps it. */
  function keepTyped() {
    const field = document.activeElement;
    if (field?.type !== 'text' || !field.value) return;
    const label = document.querySelector(`label[for="${field.id}"]`)?.innerText ?? 'a field';
    try {
      const left = JSON.parse(localStorage.getItem(`${PREFIX}left`) ?? '[]');
      left.push({ field: `${location.hash}|${label}|stopped`, place: location.hash, label, text: field.value, why: 'The program stopped while you typed.' });
      localStorage.setItem(`${PREFIX}left`, JSON.stringify(left));
    } catch {
      // It stays on screen, below.
    }
  }

  /** One step went wrong, and the program goes on. */
  function sayOn() {
    if (shown) return;
    shown = true;
    const part = make('section', '', { className: 'notice alert' });
    const actions = make('p', '', { className: 'actions' });
    actions.append(
      make('button', 'Load the page again', { onclick: () => location.reload() }),
      make('button', 'Go on', { onclick: () => { part.remove(); shown = false; } }),
    );
    part.append(
      make('p', 'Something went wrong just now. What was stored is safe. Look whether what you did last is there.', { role: 'alert' }),
      actions,
    );
    document.body.prepend(part);
  }

  // An error thrown by WebAssembly itself ends what the program was doing. Most often that was one press, and all else
  // goes on: it is asked, and answers by the very thing that fails last.
  let asking = false;
  function stopped() {
    if (asking) return;
    asking = true;
    const { dataset } = document.documentElement;
    delete dataset.alive;
    dispatchEvent(new Event('stillthere'));
    setTimeout(() => {
      asking = false;
      if (dataset.alive) return sayOn();
      keepTyped();
      show('The program has stopped.');
    });
  }

  const heard = (error) => {
    if (started && error instanceof WebAssembly.RuntimeError) stopped();
    else if (!started) show('The program could not start.');
  };
  addEventListener('TrunkApplicationStarted', () => {
    started = true;
    // It was late, or something else went wrong before: the program is here, and what was said of it is not true any more.
    early?.remove();
    shown = false;
  });
  addEventListener('error', (event) => {
    // A file that did not come has no error of its own; one that was only sent for early is asked for again where it is needed.
    if (event.error || (event.target !== window && event.target.rel !== 'preload')) heard(event.error);
  }, true);
  addEventListener('unhandledrejection', (event) => heard(event.reason));
  if (location.protocol === 'file:') {
    shown = true;
    addEventListener('DOMContentLoaded', sayFile);
  }
  if (globalThis.tooOld) show(tooOld);
  setTimeout(() => { if (!started) show('The program has not started yet.'); }, PATIENCE_MS);
})();
