/**
 * How well flat work is measured from made-up photos, and what measuring it is worth to a maker. Prints two tables;
 * about 2 s a case.
 * npx tsx tests/studies/work-checks.ts [discs] [swatches] [tubes] [maker] [--cases N] [--first SEED] [--jobs N]
 * Seeds from 1001 are for reporting; whoever changes how an uncertainty is reckoned looks at others (from 5001).
 */
import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { loadOutlineModel } from '../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../vision/opencv/load-opencv.ts';
import {
  type CaseScore,
  type SizeScore,
  scoreDisc,
  scoreSwatch,
  scoreTube,
  summarise,
} from '../support/flat-work-scores.ts';
import { type JobOutcome, randomJob, workJob } from '../support/simulated-maker.ts';

/** Base within this share of the container. */
const WITHIN = 0.03;
const KINDS = { discs: scoreDisc, swatches: scoreSwatch, tubes: scoreTube } as const;
const TABLES = {
  '': ({ sizes }: CaseScore) => sizes,
  ': gauge': ({ gauge }: CaseScore) => gauge,
  ': out of round': ({ outOfRoundness }: CaseScore) => outOfRoundness,
  ': before asking for rows': ({ beforeAsking }: CaseScore) => beforeAsking,
} as const;
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    cases: { type: 'string', default: '200' },
    first: { type: 'string', default: '1001' },
    jobs: { type: 'string', default: '1000' },
  },
});

const wanted = Object.entries(KINDS).filter(([name]) => positionals.length === 0 || positionals.includes(name));
if (wanted.length > 0)
  process.stdout.write(
    'what                                 n  median %   90 %   worst %  95 % interval holds  rms sds\n',
  );
const { cv } = await loadOpenCv();
const outlineModel = loadOutlineModel(cv, await readFile('vision/network/outline-model.onnx'));
for (const [name, measure] of wanted) {
  const cases: CaseScore[] = [];
  for (let i = 0; i < Number(values.cases); i++) {
    const one = measure({ cv, outlineModel }, Number(values.first) + i);
    cases.push(one);
    const sizes = one.sizes.map(({ errorPct, sds }) => `${errorPct.toFixed(2)} % (${sds.toFixed(1)} sd)`).join(', ');
    process.stderr.write(`${name} ${one.seed}: ${one.refused ?? sizes}\n`);
  }
  for (const [what, scores] of Object.entries(TABLES)) row(name + what, cases.flatMap(scores));
  const refused = cases.filter((one) => one.refused).map((one) => `${one.seed} ${one.refused}`);
  process.stdout.write(`${name}: ${refused.length} of ${cases.length} refused ${refused.join(', ')}\n`);
}

if (positionals.length === 0 || positionals.includes('maker')) makerTable();

function row(name: string, scores: readonly SizeScore[]): void {
  if (scores.length === 0) return;
  const s = summarise(scores);
  const cells = [
    name.padEnd(34),
    String(s.n).padStart(4),
    s.medianAbsPct.toFixed(2).padStart(9),
    s.p90AbsPct.toFixed(2).padStart(6),
    s.worstAbsPct.toFixed(2).padStart(9),
    `${(100 * s.coverage95).toFixed(1)} %`.padStart(20),
    s.rmsSds.toFixed(2).padStart(8),
  ];
  process.stdout.write(`${cells.join(' ')}\n`);
}

function makerTable(): void {
  process.stdout.write('maker: gauge off by   base within 3 %, two photos   without   ripped back\n');
  for (const [name, least] of [
    ['up to 15 %', 0],
    ['12 to 15 %', 0.12],
  ] as const) {
    const outcomes = Array.from({ length: Number(values.jobs) }, (_, i) => workJob(randomJob(i + 1, 0.15, least)));
    const share = (good: (outcome: JobOutcome) => boolean): string =>
      `${((100 * outcomes.filter((one) => one && good(one)).length) / outcomes.length).toFixed(1)} %`;
    const cells = [
      name.padEnd(19),
      share(({ withChecks }) => Math.abs(withChecks) <= WITHIN).padStart(26),
      share(({ withoutChecks }) => Math.abs(withoutChecks) <= WITHIN).padStart(9),
      share(({ rippedBack }) => rippedBack).padStart(12),
    ];
    process.stdout.write(`${cells.join(' ')}\n`);
  }
}
