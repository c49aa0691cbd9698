// What the program asks of the browser around it: to be there with the network off, turns between tabs, a promise to
// keep what is stored, light or dark, and that what is typed is stored before anything else happens. The program calls it through `device`. Plain JavaScript, since it is a fifth of the weight so.

globalThis.combScale = {
  /**
   * The whole program has started: registers the worker of this page; calls `newer` when a newer version is there and waits
   * to be asked for.
   */
  async keepOffline(newer) {
    this.whole = true;
    const workers = navigator.serviceWorker;
    if (!workers) return;
    // The page of this version has started: its worker may put the version before away.
    workers.controller?.postMessage('started');
    let registration;
    try {
      registration = await workers.register('./worker.js', { updateViaCache: 'none' });
    } catch {
      // A host without the worker, or a network that is off: the page works as it is.
    }
    if (!registration) return;
    const look = () => { if (registration.waiting && workers.controller) newer(); };
    const follow = () => registration.installing?.addEventListener('statechange', look);
    registration.addEventListener('updatefound', follow);
    follow();
    look();
    // A page may stay open for weeks.
    document.addEventListener('visibilitychange', () => { if (!document.hidden) registration.update().catch(() => {}); });
    this.useNewer = () => {
      workers.addEventListener('controllerchange', () => location.reload());
      registration.waiting?.postMessage('use');
    };
  },

  /**
   * Asks for the turn of this name, which one tab has at a time; calls `begin` when it comes. Gives a function that gives
   * the turn back, or no longer waits for it; nothing in a browser without turns, or over plain http.
   */
  turn(begin, name) {
    let over = false;
    let end;
    navigator.locks?.request(name, () => !over && new Promise((done) => {
      end = done;
      begin();
    }));
    return navigator.locks && (() => {
      over = true;
      end?.();
    });
  },

  /** Whether the browser keeps what is stored until the person deletes it: `persisted` asks that, `persist` to do so. */
  async lasting(answer, question) {
    answer(await navigator.storage?.[question]?.().catch(() => false) === true);
  },
};

{
  const GROUND = { light: '#fbfaf6', dark: '#15181b' };
  const wish = matchMedia('(prefers-color-scheme: dark)');
  let chosen = '';
  try {
    // Before anything is drawn, so that nobody meets a white page at night.
    chosen = JSON.parse(localStorage.getItem('comb-scale/preferences'))?.theme ?? '';
  } catch {
    // Nothing can be read: the phone's wish it is.
  }
  const show = () => {
    const theme = chosen in GROUND ? chosen : wish.matches ? 'dark' : 'light';
    document.documentElement.dataset.theme = theme;
    for (const meta of document.querySelectorAll('meta[name=theme-color]')) meta.content = GROUND[theme];
    // Charts are drawn anew.
    dispatchEvent(new Event('themechange'));
  };
  wish.addEventListener?.('change', show);
  show();
  /** Light or dark by choice; anything else leaves it to the phone. */
  globalThis.combScale.theme = (_, theme) => {
    chosen = theme;
    show();
  };
}

{
  /** The field being typed in hands over what is in it. The focus stays: it may be a press beside it, or in a reader. */
  const handOver = ({ target }) => {
    const { activeElement } = document;
    if (activeElement !== target && activeElement?.type === 'text') activeElement.dispatchEvent(new Event('change', { bubbles: true }));
  };
  // Before the program hears of it: these are the first listeners of the page.
  for (const leaving of ['click', 'hashchange']) addEventListener(leaving, handOver, true);
}
