// What an eye and a thumb find on the screen: text that sticks out, is cut or lies over other text, text too pale, things
// to press that are too small or too close. Each gives lines, none where all is well.

/** Runs in the page. */
const seen = () => {
  globalThis.looked ??= {
    name: (it) => `<${it.tagName.toLowerCase()}${it.className && typeof it.className === 'string' ? `.${it.className.trim().replace(/\s+/g, '.')}` : ''}> ${(it.innerText || it.ariaLabel || '').trim().slice(0, 50)}`,
    /** Text nodes that are to be seen, each with the boxes of its lines. */
    texts() {
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      const all = [];
      while (walker.nextNode()) {
        const node = walker.currentNode;
        const it = node.parentElement;
        if (!node.data.trim() || it.closest('script, style, noscript, option, textarea') || !it.checkVisibility({ visibilityProperty: true })) continue;
        const range = document.createRange();
        range.selectNodeContents(node);
        const lines = [...range.getClientRects()].filter((box) => box.width > 0 && box.height > 0);
        if (lines.length > 0) all.push({ node, it, lines });
      }
      return all;
    },
    fixed: (it) => { for (let at = it; at; at = at.parentElement) if (['fixed', 'sticky'].includes(getComputedStyle(at).position)) return true; return false; },
  };
  return globalThis.looked;
};

/** Text or page wider than the screen, text cut off by its box, text over text, a number broken in two. */
export async function crowded(page) {
  await page.evaluate(seen);
  return page.evaluate(() => {
    const { name, texts, fixed } = globalThis.looked;
    const found = [];
    const { scrollWidth, clientWidth } = document.documentElement;
    if (scrollWidth > clientWidth) {
      const wide = [...document.body.querySelectorAll('*')].filter((it) => it.getBoundingClientRect().right > clientWidth + 1);
      found.push(`the page is ${scrollWidth} px wide on a screen of ${clientWidth} px: ${wide.slice(-2).map(name).join(', ')}`);
    }
    const boxes = [];
    for (const { node, it, lines } of texts()) {
      if (it.closest('.to-print')) continue;
      if (/^[−+]?[\d.,]+$/.test(node.data.trim()) && lines.some(({ top }) => top > lines[0].bottom - 1)) found.push(`a number in two lines: ${name(it)}`);
      if (lines.some(({ left, right }) => left < -1 || right > clientWidth + 1)) found.push(`sticks out: ${name(it)}`);
      for (let at = it; at; at = at.parentElement) {
        const { overflowX, overflowY, display } = getComputedStyle(at);
        if (display === 'inline' || (overflowX === 'visible' && overflowY === 'visible')) continue;
        if (at.scrollWidth > at.clientWidth + 1 || at.scrollHeight > at.clientHeight + 1) { found.push(`cut: ${name(it)}`); break; }
      }
      if (!fixed(it)) boxes.push(...lines.map((line) => ({ it, line })));
    }
    // A number stands whole in its field; words, and rows of numbers, may run on behind its edge as in every line of text.
    for (const field of document.querySelectorAll('input[inputmode=decimal]')) {
      if (field.checkVisibility() && field.scrollWidth > field.clientWidth + 1) found.push(`cut: ${name(field)} ${field.value}`);
    }
    // A button whose words run over its edge.
    for (const button of document.querySelectorAll('button, .button, .bar a, summary')) {
      if (button.checkVisibility() && button.scrollWidth > button.clientWidth + 1) found.push(`runs over its edge: ${name(button)}`);
    }
    boxes.sort((a, b) => a.line.top - b.line.top);
    boxes.forEach((one, i) => {
      for (let next = i + 1; next < boxes.length && boxes[next].line.top < one.line.bottom; next += 1) {
        const other = boxes[next];
        const over = (low, high) => Math.min(one.line[high], other.line[high]) - Math.max(one.line[low], other.line[low]);
        const least = Math.min(one.line.height, other.line.height);
        if (one.it !== other.it && over('left', 'right') > 2 && over('top', 'bottom') > 0.4 * least) {
          found.push(`lies over other text: ${name(one.it)} | ${name(other.it)}`);
        }
      }
    });
    return [...new Set(found)];
  });
}

/**
 * Things to press under 48 × 48 px, and those closer to each other than 8 px. Links within a sentence are excepted, as in
 * WCAG 2.2, 2.5.8; so are the five places of the bar, which share one strip, each far over 48 px.
 */
export async function tight(page, { least = 48, between = 8 } = {}) {
  await page.evaluate(seen);
  return page.evaluate(([least, between]) => {
    const { name } = globalThis.looked;
    const pressable = 'button, a[href], input:not([type=hidden]), select, textarea, summary, [role=button]';
    const all = [...document.querySelectorAll(pressable)]
      .filter((it) => it.checkVisibility({ visibilityProperty: true }) && getComputedStyle(it).display !== 'inline')
      // A tick box is pressed by its label.
      .map((it) => ({ it, box: ((/^(radio|checkbox)$/.test(it.type) && it.closest('label')) || it).getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0);
    const found = all
      .filter(({ box }) => box.width < least - 0.5 || box.height < least - 0.5)
      .map(({ it, box }) => `${Math.round(box.width)} × ${Math.round(box.height)} px: ${name(it)}`);
    const free = all.filter(({ it }) => !it.closest('.bar')).sort((a, b) => a.box.top - b.box.top);
    free.forEach((one, i) => {
      for (let next = i + 1; next < free.length && free[next].box.top < one.box.bottom + between - 0.5; next += 1) {
        const other = free[next];
        const gap = (low, high) => Math.max(one.box[low], other.box[low]) - Math.min(one.box[high], other.box[high]);
        const apart = Math.max(gap('left', 'right'), gap('top', 'bottom'));
        if (apart < between - 0.5 && !one.it.contains(other.it)) found.push(`${Math.round(apart)} px between: ${name(one.it)} | ${name(other.it)}`);
      }
    });
    return [...new Set(found)];
  }, [least, between]);
}

/**
 * Text under `least` : 1 on its ground, marks (which are drawings) under 3 : 1. The formula is that of WCAG 2.2, "contrast
 * ratio" and "relative luminance" in its glossary, with the sRGB threshold 0.04045 of IEC 61966-2-1.
 */
export async function paleTexts(page, least = 7) {
  await page.evaluate(seen);
  return page.evaluate((least) => {
    const { name, texts } = globalThis.looked;
    const parts = (colour) => colour.match(/[\d.]+/g).map(Number);
    const luminance = ([r, g, b]) => [r, g, b].reduce((sum, c, i) => {
      const s = c / 255;
      return sum + [0.2126, 0.7152, 0.0722][i] * (s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4);
    }, 0);
    const ground = (it) => {
      for (let at = it; at; at = at.parentElement) {
        const [r, g, b, a = 1] = parts(getComputedStyle(at).backgroundColor);
        if (a === 1) return [r, g, b];
        if (a !== 0) throw new Error(`a ground that is half clear: ${name(at)}`);
      }
      return parts(getComputedStyle(document.documentElement).backgroundColor).slice(0, 3);
    };
    const found = texts().map(({ it }) => {
      const [high, low] = [luminance(parts(getComputedStyle(it).color)), luminance(ground(it))].sort((a, b) => b - a);
      return { it, ratio: (high + 0.05) / (low + 0.05) };
    });
    const pale = found.filter(({ it, ratio }) => ratio < (it.closest('.mark') ? 3 : least));
    return [...new Set(pale.map(({ it, ratio }) => `${ratio.toFixed(2)} : 1 for ${name(it)}`))];
  }, least);
}
