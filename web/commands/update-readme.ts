import { readFile, writeFile } from 'node:fs/promises';
import { scoreFolders } from './accuracy-folders.ts';
import type { AccuracyReport, SizeScore } from './accuracy-score.ts';
import { EXIT, runCommand } from './command-line.ts';

const README = 'README.md';
const BLOCK = /(<!-- accuracy: [^>]*-->\n)[\s\S]*?(<!-- \/accuracy -->)/;

runCommand('readme', async () => {
  const { report } = await scoreFolders(['sample-images'], {});
  const readme = await readFile(README, 'utf8');
  await writeFile(
    README,
    readme.replace(BLOCK, (_, begin, end) => `${begin}${accuracyTable(report)}${end}`),
  );
  return EXIT.done;
});

function accuracyTable(report: AccuracyReport): string {
  const row = (name: string, score: SizeScore) =>
    `| ${name} | ${score.n} | ${fixed(score.medianAbsMm, 1)} mm (${fixed(score.medianAbsPct, 1)} %) | ${fixed(score.p90AbsPct, 1)} % | ${fixed(score.worstAbsPct, 1)} % | ${Math.round(100 * (score.coverage95 ?? 0))} % |`;
  return `
\`npm run accuracy -- sample-images\`: ${report.photos} photos of known truth, found and measured without help, ${report.measured} measured, ${report.refused} refused with a reason.

| size | photos | median error | 90 % of errors below | worst | truth inside the stated 95 % interval |
| --- | --- | --- | --- | --- | --- |
${row('widest diameter', report.widestDiameter)}
${row('base diameter', report.baseDiameter)}
${row('height', report.height)}

`;
}

function fixed(value: number | null, digits: number): string {
  return value === null ? '–' : value.toFixed(digits);
}
