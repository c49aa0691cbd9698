// Reads numbers as the page writes them: `212 µm (196 to 229)`, `−0.2 g`, `38.1 % of wet coat`, `3,2 g`.

// Thousands may be set apart by a space that does not break: U+00A0, U+2009, U+202F.
const NUMBER = String.raw`[-−+]?\d+(?:[\u00a0\u2009\u202f]\d{3})*(?:[.,]\d+)?`;
const FIGURE = new RegExp(String.raw`^(${NUMBER})\s*([^\d\s(][^\d(]*?)?\s*(?:\((${NUMBER})\s*to\s*(${NUMBER})\)\s*(.*))?$`, 's');

/** One number, with either decimal mark and a true or a typed minus sign. */
export function parseNumber(text) {
  const plain = text.replace(/[\u00a0\u2009\u202f]/g, '').replace('−', '-').replace(',', '.');
  const number = Number(plain);
  if (plain === '' || Number.isNaN(number)) throw new Error(`not a number: '${text}'`);
  return number;
}

/** `{ value, unit, low, high }`; `low` and `high` are absent where no interval is shown. Throws on anything else. */
export function parseFigure(text) {
  const match = FIGURE.exec(text.trim());
  if (!match) throw new Error(`not a figure: '${text}'`);
  const [, value, unit = '', low, high, after = ''] = match;
  const figure = { value: parseNumber(value), unit: (unit || after).trim() };
  if (low !== undefined) Object.assign(figure, { low: parseNumber(low), high: parseNumber(high) });
  return figure;
}
