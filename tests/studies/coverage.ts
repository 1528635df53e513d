/**
 * Monte Carlo study of the measurement model: `npm run study:coverage -- [--scenes N] [--seed N] [--json]`.
 * Simulates card and outline (traced ray by ray, not with the model's own projector) with correlated noise and all nuisances drawn from their priors, fits them, and prints for
 * every arrangement and focal case, and on a table beside a coin too: failures, bias, RMSE against the Cramér–Rao bound, coverage of the 95 % intervals.
 * `--turned`: pictures beside a coin, turned by 0 to 330°; nobody says whether the container stands or lies.
 */

import { chooseArrangement } from '../../vision/container/choose-arrangement.ts';
import { type ContainerFit, fitContainer } from '../../vision/container/fit-container.ts';
import { isBaseSeen } from '../../vision/container/fit-warnings.ts';
import { sizeEstimate } from '../../vision/container/size-estimate.ts';
import { NORMAL_95 } from '../../vision/estimate.ts';
import { dot, multiply } from '../../vision/geometry/linear3.ts';
import { ARRANGEMENTS, type Arrangement, ON_ONE_TABLE } from '../../vision/measurement.ts';
import { ROUND_REFERENCES } from '../../vision/reference/round-reference.ts';
import { EXIT, numberOption, oneOf, readArguments, runCommand } from '../../web/commands/command-line.ts';
import { rayTracedOutline } from '../support/ray-traced-outline.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { type FocalCase, type SimulatedScene, simulateScene } from '../support/simulated-scene.ts';
import { cramerRaoBound } from './cramer-rao.ts';

const FOCAL_CASES: readonly FocalCase[] = ['exact', 'rounded', 'unknown'];
const SIZES = ['baseDiameterMm', 'maxDiameterMm', 'heightMm'] as const;
type Size = (typeof SIZES)[number];
const BESIDE = ['card', 'coin'] as const;
type Beside = (typeof BESIDE)[number];
const TURN_STEP_DEG = 30;
const COIN = ROUND_REFERENCES.find(({ name }) => name === '2 euro');

/** One size of one scene. */
interface Outcome {
  readonly error: number;
  readonly sd: number;
  readonly bound: number | null;
}

interface Cell {
  readonly beside: Beside;
  readonly arrangement: Arrangement;
  readonly focalCase: FocalCase;
  readonly scenes: number;
  readonly failures: number;
  readonly basesSeen: number;
  readonly medianMs: number;
  readonly sizes: Readonly<Record<Size, Summary>>;
}

interface Summary {
  readonly count: number;
  readonly biasInSd: number;
  readonly rmseMm: number;
  /** Root mean square of error / bound: 1 is as good as can be. */
  readonly rmseByBound: number;
  readonly coverage: number;
  readonly medianSdMm: number;
}

const HELP = `Monte Carlo study of the measurement model: bias, spread against the Cramér–Rao bound, coverage.

npm run --silent study:coverage -- [--scenes N] [--seed N] [--arrangement A] [--beside card|coin] [--json]
npm run --silent study:coverage -- --turned [--scenes N] [--seed N] [--arrangement standing|lying]
`;

runCommand('study:coverage', async () => {
  const { values } = readArguments({
    scenes: { type: 'string' },
    seed: { type: 'string' },
    arrangement: { type: 'string' },
    beside: { type: 'string' },
    json: { type: 'boolean' },
    turned: { type: 'boolean' },
    help: { type: 'boolean' },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return EXIT.done;
  }
  const scenes = numberOption('scenes', values.scenes, 1, 1e5) ?? 200;
  const seed = numberOption('seed', values.seed, 0, 1e6) ?? 1;
  const only = oneOf('arrangement', values.arrangement, ARRANGEMENTS);
  const onlyBeside = oneOf('beside', values.beside, BESIDE);
  if (values.turned) {
    for (const arrangement of ON_ONE_TABLE.filter((one) => !only || one === only))
      studyTurns(arrangement, scenes, seed);
    return EXIT.done;
  }
  const cells: Cell[] = [];
  for (const beside of onlyBeside ? [onlyBeside] : BESIDE) {
    const possible = beside === 'card' ? ARRANGEMENTS : ON_ONE_TABLE;
    for (const arrangement of possible.filter((one) => !only || one === only)) {
      for (const focalCase of FOCAL_CASES) {
        const cell = studyCell(beside, arrangement, focalCase, scenes, seed);
        cells.push(cell);
        if (!values.json) printCell(cell);
      }
    }
  }
  if (values.json) console.log(JSON.stringify({ seed, cells }, null, 2));
  return EXIT.done;
});

function studyCell(beside: Beside, arrangement: Arrangement, focalCase: FocalCase, scenes: number, seed: number): Cell {
  const outcomes: Record<Size, Outcome[]> = { baseDiameterMm: [], maxDiameterMm: [], heightMm: [] };
  const times: number[] = [];
  let failures = 0;
  let basesSeen = 0;
  const first =
    seed * 1_000_003 + ARRANGEMENTS.indexOf(arrangement) * 100_003 + FOCAL_CASES.indexOf(focalCase) * 10_007;
  for (let i = 0; i < scenes; i++) {
    const scene = simulateScene(seededRandom(first + i), {
      arrangement,
      focalCase,
      ...(beside === 'coin' && { coin: COIN }),
      longSidePx: i % 2 === 0 ? 4032 : 1600,
      outlineOf: rayTracedOutline,
    });
    const started = performance.now();
    const result = fitContainer(scene.sight, { arrangement });
    times.push(performance.now() - started);
    if (!result.ok) {
      failures++;
      continue;
    }
    const baseSeen = isBaseSeen(result.fit);
    if (baseSeen) basesSeen++;
    const found = compare(scene, result.fit);
    for (const size of SIZES) if (size !== 'baseDiameterMm' || baseSeen) outcomes[size].push(found[size]);
    if (SIZES.some((size) => (size !== 'baseDiameterMm' || baseSeen) && isLost(found[size]))) failures++;
  }
  times.sort((a, b) => a - b);
  return {
    beside,
    arrangement,
    focalCase,
    scenes,
    failures,
    basesSeen,
    medianMs: times[times.length >> 1],
    sizes: {
      baseDiameterMm: summarise(outcomes.baseDiameterMm),
      maxDiameterMm: summarise(outcomes.maxDiameterMm),
      heightMm: summarise(outcomes.heightMm),
    },
  };
}

/** Pictures beside a coin, turned step by step: what is measured, and whether the intervals of both sizes hold. */
function studyTurns(arrangement: Arrangement, scenes: number, seed: number): void {
  const sizes = ['maxDiameterMm', 'heightMm'] as const;
  console.log(`${arrangement} beside a coin   refused   widest ⌀ and height inside   worst miss   median ±`);
  for (let turnDeg = 0; turnDeg < 360; turnDeg += TURN_STEP_DEG) {
    const measured: {
      readonly errors: readonly number[];
      readonly sds: readonly number[];
      readonly relativeSd: number;
    }[] = [];
    for (let i = 0; i < scenes; i++) {
      const focalCase = FOCAL_CASES[i % FOCAL_CASES.length];
      const random = seededRandom(seed * 1_000_003 + turnDeg * 1009 + i);
      const scene = simulateScene(random, { arrangement, focalCase, coin: COIN, longSidePx: 1600, turnDeg });
      const choice = chooseArrangement(
        ON_ONE_TABLE.flatMap((one) => {
          const result = fitContainer(scene.sight, { arrangement: one });
          return result.ok ? [result.fit] : [];
        }),
      );
      if (!choice || choice.isOpen) continue;
      const found = sizes.map((size) => ({ ...sizeEstimate(choice.fit, size), truth: scene[size] }));
      measured.push({
        errors: found.map(({ value, truth }) => value / truth - 1),
        sds: found.map(({ value, sd, truth }) => (value - truth) / sd),
        relativeSd: found[0].sd / found[0].value,
      });
    }
    const inside = sizes.map((_, k) => measured.filter(({ sds }) => Math.abs(sds[k]) <= NORMAL_95).length);
    const missed = measured.filter(({ sds }) => sds.some((z) => Math.abs(z) > NORMAL_95));
    const worst = Math.max(0, ...missed.flatMap(({ errors }) => errors.map(Math.abs)));
    const relativeSds = measured.map(({ relativeSd }) => relativeSd).sort((a, b) => a - b);
    const cells = [
      `${turnDeg}°`.padStart(8),
      `${scenes - measured.length} of ${scenes}`.padStart(22),
      `${inside.join(' and ')} of ${measured.length}`.padStart(26),
      `${(100 * worst).toFixed(1)} %`.padStart(14),
      `${(100 * NORMAL_95 * (relativeSds[relativeSds.length >> 1] ?? Number.NaN)).toFixed(1)} %`.padStart(10),
    ];
    console.log(cells.join(' '));
  }
}

/** The solver ended in a wrong valley: more than ten standard uncertainties off. */
function isLost({ error, sd }: Outcome): boolean {
  return !(Math.abs(error) < 10 * sd);
}

function compare(scene: SimulatedScene, fit: ContainerFit): Record<Size, Outcome> {
  const { rotation, containerRotation: r } = scene.view;
  // in the camera frame: a coin does not say how it is turned
  const trueAxis = multiply(rotation, [r[2], r[5], r[8]]);
  const upsideDown = dot(multiply(fit.state.rotation, fit.state.axis), trueAxis) < 0;
  const truth: Record<Size, number> = {
    baseDiameterMm: upsideDown ? scene.topDiameterMm : scene.baseDiameterMm,
    maxDiameterMm: scene.maxDiameterMm,
    heightMm: scene.heightMm,
  };
  const seen = { ...fit.model.seen, outlineSdFactor: fit.model.seen.outlineSdFactor / fit.misfit };
  const bound = upsideDown ? null : cramerRaoBound(scene, seen);
  const outcome = (size: Size): Outcome => {
    const { value, sd } = sizeEstimate(fit, size);
    return {
      error: value - truth[size],
      sd,
      bound: bound?.[size] ?? null,
    };
  };
  return {
    baseDiameterMm: outcome('baseDiameterMm'),
    maxDiameterMm: outcome('maxDiameterMm'),
    heightMm: outcome('heightMm'),
  };
}

function summarise(outcomes: readonly Outcome[]): Summary {
  const mean = (list: readonly number[]) => list.reduce((a, b) => a + b, 0) / Math.max(list.length, 1);
  const sds = outcomes.map(({ sd }) => sd).sort((a, b) => a - b);
  const byBound = outcomes.filter(({ bound }) => bound !== null).map(({ error, bound }) => (error / (bound ?? 1)) ** 2);
  return {
    count: outcomes.length,
    biasInSd: mean(outcomes.map(({ error, sd }) => error / sd)),
    rmseMm: Math.sqrt(mean(outcomes.map(({ error }) => error ** 2))),
    rmseByBound: Math.sqrt(mean(byBound)),
    coverage: mean(outcomes.map(({ error, sd }) => (Math.abs(error) <= NORMAL_95 * sd ? 1 : 0))),
    medianSdMm: sds[sds.length >> 1] ?? Number.NaN,
  };
}

function printCell({ beside, arrangement, focalCase, scenes, failures, basesSeen, medianMs, sizes }: Cell): void {
  const title = `${arrangement} beside a ${beside}, focal length ${focalCase}`;
  console.log(
    `${title}: ${scenes} scenes, ${failures} failures, base seen in ${basesSeen}, ${medianMs.toFixed(0)} ms a fit`,
  );
  for (const size of SIZES) {
    const s = sizes[size];
    console.log(
      `  ${size.padEnd(15)} bias ${s.biasInSd.toFixed(2).padStart(5)} sd   RMSE ${s.rmseMm.toFixed(2)} mm = ${s.rmseByBound.toFixed(2)} × bound` +
        `   coverage ${(100 * s.coverage).toFixed(1)} %   stated sd ${s.medianSdMm.toFixed(2)} mm`,
    );
  }
}
