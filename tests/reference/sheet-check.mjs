// An HTML validator and an accessibility checker over pages: html-validate (the document as HTML), axe-core in a real browser at two widths.
//   node sheet-check.mjs /path/of/chromium page.html …   prints, a page a line, { "html": [message…], "axe": { "360": [message…], "1400": […] }, "overflow": { "360": px, … } }
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { createRequire } from 'node:module';
import { HtmlValidate, StaticConfigLoader } from 'html-validate';
import puppeteer from 'puppeteer-core';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const [chromium, ...pages] = process.argv.slice(2);
const validator = new HtmlValidate(new StaticConfigLoader({
  // What the living standard asks for. Void elements may close themselves by it; inline SVG is no HTML.
  extends: ['html-validate:standard', 'html-validate:a11y'],
  rules: { 'void-style': 'off', 'no-self-closing': 'off' },
}));
const browser = await puppeteer.launch({ executablePath: chromium, headless: true, args: ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage'] });
for (const page of pages) {
  const report = await validator.validateString(readFileSync(page, 'utf8'), page);
  const html = report.results.flatMap(r => r.messages).map(m => `${m.line}:${m.column} ${m.ruleId}: ${m.message}`);
  const found = {}, overflow = {};
  for (const width of [360, 1400]) {
    const tab = await browser.newPage();
    await tab.setViewport({ width, height: 900 });
    await tab.goto(pathToFileURL(page).href, { waitUntil: 'load' });
    overflow[width] = await tab.evaluate('document.documentElement.scrollWidth - document.documentElement.clientWidth');
    await tab.evaluate(axe);
    const result = await tab.evaluate('axe.run(document, { resultTypes: ["violations"] })');
    found[width] = result.violations.map(v => `${v.impact} ${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map(n => n.html.slice(0, 160)).join(' | ')}`);
    await tab.close();
  }
  console.log(JSON.stringify({ html, axe: found, overflow }));
}
await browser.close();
