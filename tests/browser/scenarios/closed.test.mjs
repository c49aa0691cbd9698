// Nobody in, nothing out: the policy in force, names that mean harm, every request of a session; and what is left to a
// person when the program itself fails.

import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { scenario } from '../lib/scenario.mjs';
import { store, stored, theTest } from '../lib/kept.mjs';
import { HEADERS, headersIn } from '../../setup/seal.mjs';

const EXAMPLE = readFileSync(new URL('../../../src/record/example.spraytest.txt', import.meta.url), 'utf8');

/** What the policy must say, and nothing else; the hashes are the build's. */
const POLICY = [
  /^default-src 'none'$/,
  /^script-src 'self' 'wasm-unsafe-eval'( 'sha256-[A-Za-z0-9+/]{43}='){7}$/,
  /^style-src( 'sha256-[A-Za-z0-9+/]{43}='){2}$/,
  /^img-src 'self' data:$/,
  /^connect-src 'self'$/,
  /^worker-src 'self'$/,
  /^manifest-src 'self'$/,
  /^base-uri 'none'$/,
  /^form-action 'none'$/,
];

scenario('is under a strict policy, which holds', async ({ page }) => {
  const policy = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
  const rules = policy.split('; ');
  assert.equal(rules.length, POLICY.length);
  POLICY.forEach((rule, i) => assert.match(rules[i], rule));
  console.log(`the policy in force: ${policy}`);
  const stopped = await page.evaluate(async () => {
    const heard = [];
    document.addEventListener('securitypolicyviolation', (event) => heard.push(`${event.effectiveDirective} ${event.blockedURI}`));
    const make = (kind, more) => document.body.append(Object.assign(document.createElement(kind), more));
    make('script', { textContent: 'globalThis.ran = "inline"' });
    make('script', { src: 'https://elsewhere.example/x.js' });
    make('script', { src: 'data:text/javascript,globalThis.ran="data"' });
    make('img', { src: 'https://elsewhere.example/x.png' });
    make('iframe', { src: 'https://elsewhere.example/' });
    make('link', { rel: 'stylesheet', href: 'https://elsewhere.example/x.css' });
    const handler = document.createElement('div');
    handler.innerHTML = '<button onclick="globalThis.ran = \'handler\'">x</button><p style="color: red">y</p>';
    document.body.append(handler);
    handler.querySelector('button').click();
    await fetch('https://elsewhere.example/').catch(() => {});
    navigator.sendBeacon('https://elsewhere.example/', 'x');
    await new Promise((later) => setTimeout(later, 300));
    return { heard, ran: globalThis.ran };
  });
  assert.equal(stopped.ran, undefined);
  for (const directive of ['script-src-elem', 'script-src-attr', 'img-src', 'frame-src', 'style-src-elem', 'style-src-attr', 'connect-src']) {
    assert.ok(stopped.heard.some((line) => line.startsWith(directive)), `${directive} in ${stopped.heard.join(', ')}`);
  }
}, { everywhere: true, expectErrors: [/Content.Security.Policy/, /another origin: .*elsewhere/, /request failed: (.* csp$|https:..elsewhere|data:)/] });

scenario('tells its host what to send along, and is shown in no frame of another page', async ({ page, url, host, watch }) => {
  const meta = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
  const asked = headersIn(readFileSync(join(host.folder, HEADERS), 'utf8'));
  assert.equal(asked['Content-Security-Policy'], `${meta}; frame-ancestors 'none'`);
  for (const name of ['X-Frame-Options', 'X-Content-Type-Options', 'Referrer-Policy', 'Permissions-Policy']) assert.ok(asked[name], name);
  const answer = await fetch(url);
  for (const [name, value] of Object.entries(asked)) assert.equal(answer.headers.get(name), value, name);
  // It is for the host alone: nobody fetches it, and the worker does not ask for it.
  assert.equal((await fetch(url + HEADERS)).status, 404);
  assert.doesNotMatch(readFileSync(join(host.folder, 'worker.js'), 'utf8'), new RegExp(HEADERS));
  await page.route('**/framing.html', (route) => route.fulfill({ contentType: 'text/html', body: '<iframe src="./"></iframe>' }));
  const refused = page.waitForEvent('console', (message) => /frame/i.test(message.text()));
  await page.goto(`${url}framing.html`);
  await refused;
  assert.equal(await page.frameLocator('iframe').getByRole('heading').count(), 0, 'nothing of the page stands in the frame');
  watch.splice(0, watch.length, ...watch.filter((line) => !/frame-ancestors|X-Frame-Options|BLOCKED_BY_RESPONSE|BLOCKED_BY_CSP| csp$/i.test(line)));
});

/** Names as somebody might write who means harm; each that ran would leave its mark. */
const HOSTILE = [
  '<img src=x onerror="globalThis.ran=1">',
  '"><script>globalThis.ran=2</script>',
  "'-globalThis.ran=3-'",
  'javascript:globalThis.ran=4',
  '<svg onload=globalThis.ran=5>',
  '{{globalThis.ran=6}}${globalThis.ran=6}',
  '=HYPERLINK("https://elsewhere.example/","x")',
  '\u202egnihton\u0000\u2028</style><a href="javascript:globalThis.ran=7">x</a>',
];

/** The example with a hostile text wherever a text can stand. */
function hostile() {
  let nth = 0;
  const name = () => HOSTILE[(nth += 1) % HOSTILE.length];
  const test = JSON.parse(EXAMPLE);
  const change = (value, key) => {
    if (Array.isArray(value)) return value.map((one) => change(one, key));
    if (value && typeof value === 'object') return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, change(one, key)]));
    const isName = ['label', 'title', 'notes', 'note', 'text', 'place', 'to', 'why', 'currency', 'seed', 'grade'].includes(key);
    return typeof value === 'string' && isName ? name() : value;
  };
  const changed = change(test, '');
  changed.id = 'a/../<b>"\'%2F#?x';
  changed.invented = false;
  changed.notes = [{ at: test.created, text: name() }];
  changed.candidates.forEach((candidate) => {
    candidate.notes = name();
    candidate.mix = { components: [{ label: name(), role: 'base', grade: name(), parts: 4, density_g_per_ml: 1.4 }, { label: name(), role: 'hardener', parts: 1 }] };
  });
  return changed;
}

scenario('shows hostile names on every screen as the texts they are', async (hands) => {
  const { page } = hands;
  const test = hostile();
  await store(page, { [`comb-scale/test/${test.id}`]: JSON.stringify(test) });
  await hands.reload();
  await page.locator('article.shelved a').tap();
  const ran = () => page.evaluate(() => globalThis.ran);
  for (const place of ['Plan', 'Spray', 'Weigh', 'Gauge', 'Results']) {
    await hands.tap(place);
    await page.getByRole('heading', { level: 1 }).first().waitFor();
    // Everything that can be unfolded is.
    for (let round = 0; round < 3; round += 1) {
      await page.evaluate(() => document.querySelectorAll('details:not([open]) > summary').forEach((it) => it.click()));
    }
    await page.waitForTimeout(300);
    assert.equal(await ran(), undefined, place);
    const foreign = await page.evaluate(() => [...document.querySelectorAll('a[href], [src], form')]
      .map((it) => it.getAttribute('href') ?? it.getAttribute('src') ?? 'form').filter((to) => !/^(#|\.\/|blob:|data:,)/.test(to)));
    assert.deepEqual(foreign, [], place);
    assert.equal(await page.evaluate(() => document.body.querySelectorAll('script, svg[onload], img[onerror], [onclick], [style*=expression]').length), 0, place);
    await hands.assertFits();
  }
  await hands.see(HOSTILE[1].slice(0, 12));
  await hands.tap('All tests');
  await hands.tap('Remove …');
  await hands.tap('Put it into the bin');
  await hands.see('In the bin');
  assert.equal(await ran(), undefined);
  // Damaged, its name would come from its key.
  await store(page, { [`comb-scale/test/${test.id}`]: '{' });
  await page.goto(`${hands.url}#/${encodeURIComponent(test.id)}/weigh`);
  const download = page.waitForEvent('download');
  await hands.tap('Save its text as a file');
  assert.equal((await download).suggestedFilename(), 'a b 2F x.spraytest.txt');
  assert.equal(await ran(), undefined);
});

scenario('asks nothing of any other host in a whole session', async (hands) => {
  const { page } = hands;
  const requests = [];
  page.context().on('request', (request) => requests.push(request.url()));
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => {}));
  await hands.reload();
  await hands.tap('See a worked example');
  for (const place of ['Plan', 'Spray', 'Weigh', 'Gauge', 'Results']) {
    await hands.tap(place);
    await page.evaluate(() => document.querySelectorAll('details:not([open]) > summary').forEach((it) => it.click()));
    await page.waitForTimeout(100);
  }
  await hands.tap('All tests');
  await hands.tap('New spray test');
  await hands.tap('Spray');
  await hands.openEntries();
  await hands.fill('A1 bare', '412.5');
  await page.evaluate(() => navigator.serviceWorker.getRegistration().then((registration) => registration.update()).then(() => {}));
  await hands.reload();
  const { origin } = new URL(hands.url);
  const foreign = requests.filter((url) => !/^(data|blob):/.test(url) && new URL(url).origin !== origin);
  assert.ok(requests.length > 5, `requests are heard: ${requests.length}`);
  assert.deepEqual(foreign, []);
  console.log(`requests of a whole session: ${requests.length}; to other hosts: ${foreign.length}`);
});

const rescued = async (hands, sentence) => {
  await hands.see(sentence);
  await hands.assertFits();
  await hands.assertTargets();
  const download = hands.page.waitForEvent('download');
  await hands.tap(/^Save “Spray test of/);
  const file = await download;
  assert.match(file.suggestedFilename(), /^test \w+\.spraytest\.txt$/);
  assert.match(readFileSync(await file.path(), 'utf8'), /412\.5/);
};

async function withReading(hands) {
  await hands.tap('New spray test');
  await hands.tap('Spray');
  await hands.openEntries();
  await hands.fill('A1 bare', '412.5');
}

scenario('offers the raw records where the program does not load', async (hands) => {
  await withReading(hands);
  const { page } = hands;
  await page.route(/\.wasm$/, (route) => route.fulfill({ status: 404, body: '' }));
  await page.reload();
  await rescued(hands, 'The program could not start.');
  await hands.shot('could-not-load');
  await hands.assertAccessible();
}, { serviceWorkers: 'block', expectErrors: [/404|WebAssembly|wasm/] });

/** Browsers in which the program cannot run: each as it looks to the page. */
const OLD = {
  'has no WebAssembly': () => { delete globalThis.WebAssembly; },
  'has only the WebAssembly of its first years': () => {
    const refuse = async () => { throw new WebAssembly.CompileError('made old on purpose'); };
    Object.assign(WebAssembly, { validate: () => false, instantiate: refuse, instantiateStreaming: refuse, compile: refuse, compileStreaming: refuse });
  },
};

for (const [what, makeOld] of Object.entries(OLD)) {
  scenario(`tells a browser that ${what} that it is too old, by which it would take, and offers the raw records`, async (hands) => {
    await withReading(hands);
    await hands.page.addInitScript(makeOld);
    await hands.page.reload();
    await rescued(hands, /^This browser is too old for the program\. It takes Chrome 96, Firefox 79 or Safari 15\.1 \(iOS 15\.1\), or newer\.$/);
    assert.equal(await hands.page.getByText('Load the page again. If').count(), 0, 'which would not help');
    await hands.shot('too-old');
  }, { everywhere: true, expectErrors: [/WebAssembly|wasm|made old/] });
}

/** Ends in what a panic of the program ends in: a module of one function, which is `unreachable`. */
const trap = (page) => page.evaluate(() => {
  const bytes = [0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 7, 5, 1, 1, 102, 0, 0, 10, 5, 1, 3, 0, 0, 11];
  const stop = new WebAssembly.Instance(new WebAssembly.Module(new Uint8Array(bytes))).exports.f;
  setTimeout(stop);
});

scenario('offers the raw records where the program stops, and keeps what was being typed', async (hands) => {
  const { page } = hands;
  await withReading(hands);
  await hands.field('A2 bare').fill('426.1');
  // It does not answer any more.
  await page.evaluate(() => { document.documentElement.setAttribute = () => {}; });
  await trap(page);
  await rescued(hands, 'The program has stopped.');
  await hands.shot('stopped');
  await hands.assertAccessible();
  await Promise.all([page.waitForEvent('load'), hands.tap('Load the page again')]);
  await hands.started();
  assert.match((await theTest(page)).text, /412\.5/);
  await hands.see(/^Not stored: “426\.1”, typed for A2 bare\. The program stopped while you typed\.$/);
}, { expectErrors: [/unreachable/] });

scenario('goes on where one step went wrong and the rest of the program answers', async (hands) => {
  const { page } = hands;
  await withReading(hands);
  await trap(page);
  await hands.see('Something went wrong just now. What was stored is safe. Look whether what you did last is there.');
  await hands.assertAccessible();
  await hands.tap('Go on');
  await hands.fill('A2 bare', '413.5');
  await page.waitForFunction(() => Object.values(localStorage).some((text) => text.includes('413.5')));
  assert.equal(await page.getByText('Something went wrong just now.').count(), 0);
}, { expectErrors: [/unreachable/] });
