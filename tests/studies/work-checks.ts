/**
 * How well flat work is measured from made-up photos. Prints one table; about 4 s a case.
 * npx tsx tests/studies/work-checks.ts [discs|swatches|tubes] [--cases N] [--first SEED]
 */
import { parseArgs } from 'node:util';
import {
  type CaseScore,
  type Summary,
  scoreDisc,
  scoreSwatch,
  scoreTube,
  summarise,
} from '../support/flat-work-scores.ts';

const KINDS = { discs: scoreDisc, swatches: scoreSwatch, tubes: scoreTube } as const;
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { cases: { type: 'string', default: '200' }, first: { type: 'string', default: '1001' } },
});

const wanted = Object.entries(KINDS).filter(([name]) => positionals.length === 0 || positionals.includes(name));
process.stdout.write('what                 n  refused  median %   90 %   worst %  95 % interval holds  rms sds\n');
for (const [name, measure] of wanted) {
  const cases: CaseScore[] = [];
  for (let i = 0; i < Number(values.cases); i++) {
    const one = measure(Number(values.first) + i);
    cases.push(one);
    const sizes = one.sizes.map(({ errorPct, sds }) => `${errorPct.toFixed(2)} % (${sds.toFixed(1)} sd)`).join(', ');
    process.stderr.write(`${name} ${one.seed}: ${one.refused ?? sizes}\n`);
  }
  const refused = cases.filter((one) => one.refused).length;
  row(
    name,
    summarise(
      cases.flatMap((one) => one.sizes),
      refused,
    ),
  );
  if (name !== 'tubes')
    row(
      `${name}: gauge`,
      summarise(
        cases.flatMap((one) => one.gauge),
        refused,
      ),
    );
}

function row(name: string, s: Summary): void {
  const cells = [
    name.padEnd(17),
    String(s.n).padStart(4),
    String(s.refused).padStart(8),
    s.medianAbsPct.toFixed(2).padStart(9),
    s.p90AbsPct.toFixed(2).padStart(6),
    s.worstAbsPct.toFixed(2).padStart(9),
    `${(100 * s.coverage95).toFixed(1)} %`.padStart(20),
    s.rmsSds.toFixed(2).padStart(8),
  ];
  process.stdout.write(`${cells.join(' ')}\n`);
}
