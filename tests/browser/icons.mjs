// Makes the icons anew from style/icons/icon.svg, by way of Chromium: `node tests/browser/icons.mjs`. They are committed, so
// this is needed only after a change to the drawing. Written with a palette of a few colours, a quarter of the weight.

import { deflateSync } from 'node:zlib';
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';

const FOLDER = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'style', 'icons');
/** File, side in px, and how large the drawing stands in it: a maskable icon may lose a fifth of its side all round. */
const ICONS = [['icon-192.png', 192, 1], ['icon-512.png', 512, 1], ['icon-maskable.png', 512, 0.78], ['icon-180.png', 180, 0.9]];

/** Draws the icon and gives its pixels, red, green, blue and alpha. Runs in the page. */
async function draw([svg, side, scale]) {
  const image = new Image();
  image.src = `data:image/svg+xml,${encodeURIComponent(svg)}`;
  await image.decode();
  const pen = new OffscreenCanvas(side, side).getContext('2d');
  pen.fillStyle = '#fbfaf6';
  pen.fillRect(0, 0, side, side);
  const at = (side * (1 - scale)) / 2;
  pen.drawImage(image, at, at, side * scale, side * scale);
  return [...pen.getImageData(0, 0, side, side).data];
}

/** A chunk of a PNG (W3C Portable Network Graphics, third edition): length, name, bytes, CRC-32. */
function chunk(name, bytes) {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), bytes]);
  let crc = -1;
  for (const byte of body) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(bytes.length);
  body.copy(out, 4);
  out.writeUInt32BE(~crc >>> 0, body.length + 4);
  return out;
}

/** A PNG of 16 colours: the commonest of these pixels, each other pixel by the nearest of them. */
function png(pixels, side) {
  const counts = new Map();
  for (let i = 0; i < pixels.length; i += 4) {
    const colour = (pixels[i] << 16) | (pixels[i + 1] << 8) | pixels[i + 2];
    counts.set(colour, (counts.get(colour) ?? 0) + 1);
  }
  const palette = [...counts].sort((a, b) => b[1] - a[1]).slice(0, 16).map(([colour]) => [colour >> 16, (colour >> 8) & 255, colour & 255]);
  const nearest = (r, g, b) => palette.reduce((best, [pr, pg, pb], i) => {
    const far = (r - pr) ** 2 + (g - pg) ** 2 + (b - pb) ** 2;
    return far < best.far ? { far, i } : best;
  }, { far: Infinity, i: 0 }).i;
  const rows = Buffer.alloc(side * (1 + side / 2));
  for (let y = 0; y < side; y += 1) {
    for (let x = 0; x < side; x += 1) {
      const at = 4 * (y * side + x);
      rows[y * (1 + side / 2) + 1 + (x >> 1)] |= nearest(...pixels.slice(at, at + 3)) << (x % 2 ? 0 : 4);
    }
  }
  const head = Buffer.alloc(13);
  head.writeUInt32BE(side, 0);
  head.writeUInt32BE(side, 4);
  // Four bits a pixel, by palette.
  head.set([4, 3, 0, 0, 0], 8);
  const sign = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  const packed = deflateSync(rows, { level: 9 });
  return Buffer.concat([sign, chunk('IHDR', head), chunk('PLTE', Buffer.from(palette.flat())), chunk('IDAT', packed), chunk('IEND', Buffer.alloc(0))]);
}

const svg = readFileSync(join(FOLDER, 'icon.svg'), 'utf8').replace('<svg ', '<svg width="512" height="512" ');
const browser = await chromium.launch({ executablePath: process.env.CHROME ?? '/usr/bin/chromium', args: ['--disable-gpu'] });
try {
  const page = await browser.newPage();
  for (const [name, side, scale] of ICONS) {
    const bytes = png(await page.evaluate(draw, [svg, side, scale]), side);
    writeFileSync(join(FOLDER, name), bytes);
    console.log(`${name}: ${bytes.length} bytes`);
  }
} finally {
  await browser.close();
}
