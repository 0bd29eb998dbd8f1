// What is on the pages of PDF files, read by pdf.js: texts with their boxes and paths with their points, millimetres from the upper left corner.
//   node pdf-pages.mjs file.pdf …   prints, a file a line, [{ width, height, texts: [{ text, box: [x0, y0, x1, y1] }], paths: [{ points: [[x, y], …], … }] }, …]
import { readFileSync } from 'node:fs';

// Painting needs these, reading does not.
for (const name of ['DOMMatrix', 'ImageData', 'Path2D']) globalThis[name] ??= class { };
console.warn = () => { };
const { getDocument, OPS, Util } = await import('pdfjs-dist/legacy/build/pdf.mjs');

const mm = 25.4 / 72;
const round = v => Math.round(v * 1e5) / 1e5;

function boxOf(item, place) {
  const [a, b, c, d, e, f] = item.transform;
  const size = Math.hypot(c, d);
  const along = [a / Math.hypot(a, b), b / Math.hypot(a, b)];
  const up = [c / size, d / size];
  // Letters from below the line to the height of capitals.
  const corners = [[0, -0.2], [0, 0.73], [item.width, -0.2], [item.width, 0.73]]
    .map(([x, y]) => place(e + along[0] * x + up[0] * y * size, f + along[1] * x + up[1] * y * size));
  const xs = corners.map(p => p[0]), ys = corners.map(p => p[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)].map(round);
}

async function pageOf(page) {
  const [, , width, height] = page.view;
  const place = (x, y) => [x * mm, (height - y) * mm];
  const content = await page.getTextContent();
  const texts = content.items.filter(i => i.str.trim()).map(i => ({ text: i.str, box: boxOf(i, place) }));
  const list = await page.getOperatorList();
  const paths = [];
  let matrix = [1, 0, 0, 1, 0, 0];
  const saved = [];
  const at = (x, y) => { const p = [x, y]; Util.applyTransform(p, matrix); return place(p[0], p[1]).map(round); };
  for (let i = 0; i < list.fnArray.length; i++) {
    const args = list.argsArray[i];
    switch (list.fnArray[i]) {
      case OPS.save: saved.push(matrix); break;
      case OPS.restore: matrix = saved.pop() ?? matrix; break;
      case OPS.transform: matrix = Util.transform(matrix, args); break;
      case OPS.paintFormXObjectBegin: saved.push(matrix); if (args[0]) matrix = Util.transform(matrix, args[0]); break;
      case OPS.paintFormXObjectEnd: matrix = saved.pop() ?? matrix; break;
      case OPS.constructPath: {
        // Numbers by kind: 0 move, 1 line, 2 curve, 3 quadratic, 4 close.
        const data = args[1][0];
        if (!data || args[0] === OPS.endPath) break;
        let points = [];
        const end = () => { if (points.length > 1) paths.push({ points }); points = []; };
        for (let k = 0; k < data.length;) {
          switch (data[k++]) {
            case 0: end(); points.push(at(data[k], data[k + 1])); k += 2; break;
            case 1: points.push(at(data[k], data[k + 1])); k += 2; break;
            case 2: points.push(at(data[k + 4], data[k + 5])); k += 6; break;
            case 3: points.push(at(data[k + 2], data[k + 3])); k += 4; break;
            default: if (points.length) points.push(points[0]);
          }
        }
        end();
      }
    }
  }
  return { width: round(width * mm), height: round(height * mm), texts, paths };
}

for (const file of process.argv.slice(2)) {
  const document = await getDocument({ data: new Uint8Array(readFileSync(file)), verbosity: 0, useSystemFonts: false }).promise;
  const pages = [];
  for (let n = 1; n <= document.numPages; n++) pages.push(await pageOf(await document.getPage(n)));
  console.log(JSON.stringify(pages));
  await document.destroy();
}
