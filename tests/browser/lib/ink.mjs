// Is a canvas drawn on? Reads its pixels back.

/**
 * The background is the commonest colour; ink is everything else.
 * - `share`: ink pixels of all; `colours`: how many different ones, background included (up to 4096)
 * - `across`, `down`: the share of the width and the height that the ink spans
 * - `sharpness`: pixels of the drawing per pixel of the screen, 1 when drawn at the screen's own resolution
 */
export async function inkOf(canvas) {
  await canvas.waitFor();
  return canvas.evaluate((it) => {
    const { width, height } = it;
    if (width === 0 || height === 0) return { share: 0, colours: 0, across: 0, down: 0, sharpness: 0 };
    const copy = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true });
    copy.drawImage(it, 0, 0);
    const pixels = new Uint32Array(copy.getImageData(0, 0, width, height).data.buffer);
    const counts = new Map();
    for (const pixel of pixels) if (counts.size < 4096 || counts.has(pixel)) counts.set(pixel, (counts.get(pixel) ?? 0) + 1);
    const [background] = [...counts].reduce((most, next) => (next[1] > most[1] ? next : most));
    let [ink, left, right, top, bottom] = [0, width, -1, height, -1];
    pixels.forEach((pixel, at) => {
      if (pixel === background) return;
      const x = at % width;
      const y = (at - x) / width;
      ink += 1;
      left = Math.min(left, x);
      right = Math.max(right, x);
      top = Math.min(top, y);
      bottom = Math.max(bottom, y);
    });
    return {
      share: ink / pixels.length,
      colours: counts.size,
      across: Math.max(0, right - left + 1) / width,
      down: Math.max(0, bottom - top + 1) / height,
      sharpness: width / (it.getBoundingClientRect().width * devicePixelRatio),
    };
  });
}
