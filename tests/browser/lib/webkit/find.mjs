// Finds elements as playwright's locators do. `find` runs in the page, and so stands by itself; its steps come from locator.mjs.

/** The elements that `steps` lead to, in the order of the page. */
export function find(steps, from = document) {
  const ROLES = {
    button: 'button, summary, input[type=button], input[type=submit]', link: 'a[href]', checkbox: 'input[type=checkbox]', radio: 'input[type=radio]',
    option: 'option', heading: 'h1, h2, h3, h4, h5, h6', textbox: 'input:not([type]), input[type=text], input[type=search], textarea',
    combobox: 'select', listitem: 'li', row: 'tr', table: 'table', group: 'fieldset, details', article: 'article', navigation: 'nav', dialog: 'dialog',
    region: 'section', status: 'output', img: 'img', main: 'main',
  };
  /** Roles whose name may come from what stands in them. */
  const NAMED_BY_TEXT = ['button', 'link', 'tab', 'radio', 'checkbox', 'switch', 'option', 'menuitem', 'heading', 'row'];
  const plain = (text) => (text ?? '').replace(/\s+/g, ' ').trim();
  const isSeen = (it) => it.checkVisibility({ visibilityProperty: true }) && it.getBoundingClientRect().width > 0;
  const textOf = (it) => plain(it.tagName === 'INPUT' && it.type !== 'text' ? it.value : it.textContent);
  /** Text without what is hidden from a reader; a block stands apart from its neighbors. */
  const spoken = (it) => {
    if (it.nodeType === Node.TEXT_NODE) return it.data;
    if (it.nodeType !== Node.ELEMENT_NODE || it.ariaHidden === 'true' || !it.checkVisibility?.()) return '';
    if (it.ariaLabel) return it.ariaLabel;
    const inner = [...it.childNodes].map(spoken).join('');
    return getComputedStyle(it).display.startsWith('inline') ? inner : ` ${inner} `;
  };
  const labels = (it) => [...(it.labels ?? [])].map(spoken).join(' ');
  const referred = (it) => (it.getAttribute('aria-labelledby') ?? '').split(/\s+/).map((id) => document.getElementById(id)).filter(Boolean)
    .map(spoken).join(' ');
  const heads = { FIELDSET: 'legend', TABLE: 'caption' };
  const nameOf = (it, role) => plain(referred(it) || it.ariaLabel || labels(it) || (heads[it.tagName] && spoken(it.querySelector(`:scope > ${heads[it.tagName]}`) ?? it.firstChild ?? it))
    || (NAMED_BY_TEXT.includes(role) && spoken(it)) || it.alt || it.title);
  const fits = (text, { source, flags, text: wanted, exact }) => {
    if (source !== undefined) return new RegExp(source, flags).test(text);
    return exact ? text === plain(wanted) : text.toLowerCase().includes(plain(wanted).toLowerCase());
  };
  const within = (roots, css) => roots.flatMap((root) => [...root.querySelectorAll(css)]);
  const ordered = (all) => [...new Set(all)].sort((a, b) => (a.compareDocumentPosition(b) & Node.DOCUMENT_POSITION_FOLLOWING ? -1 : 1));
  const ways = {
    css: (set, css) => within(set, css),
    xpath: (set, path) => set.flatMap((it) => {
      const found = document.evaluate(path, it, null, XPathResult.ORDERED_NODE_SNAPSHOT_TYPE);
      return Array.from({ length: found.snapshotLength }, (_, i) => found.snapshotItem(i));
    }),
    role: (set, { role, name, level }) => within(set, `${ROLES[role] ? `:is(${ROLES[role]}):not([role]), ` : ''}[role=${role}]`)
      .filter((it) => isSeen(it) && !it.closest('[aria-hidden=true]') && (!level || it.tagName === `H${level}`) && (!name || fits(nameOf(it, role), name))
        // A section without a name is no region.
        && (role !== 'region' || name || nameOf(it, role))),
    label: (set, text) => within(set, '*').filter((it) => [labels(it), referred(it), it.ariaLabel].some((label) => label && fits(plain(label), text))),
    text: (set, text) => within(set, 'body, body *').filter((it) => !it.closest('script, style, noscript') && fits(textOf(it), text)
      && ![...it.children].some((child) => fits(textOf(child), text))),
    filter: (set, { visible, hasText, hasNotText, has }) => set.filter((it) => (!visible || isSeen(it)) && (!hasText || fits(textOf(it), hasText))
      && (!hasNotText || !fits(textOf(it), hasNotText)) && (!has || find(has, it).length > 0)),
    or: (set, other) => [...set, ...find(other)],
    nth: (set, nth) => [set.at(nth)].filter(Boolean),
  };
  return steps.reduce((set, [way, what]) => ordered(ways[way](set, what)), [from]);
}
