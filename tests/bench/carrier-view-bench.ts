/** `npx tsx tests/bench/carrier-view-bench.ts`: how long drawing a carrier takes with software WebGL at 390 x 600. */
import { readdirSync, readFileSync } from 'node:fs';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { defaultGauge, type Gauge, gaugeFromYarnCategory } from '../../sizing/gauge.ts';
import type { Plan } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { bundled, launchDrawingChromium } from '../../web/commands/in-chromium.ts';

const FRAMES = 20;

const usual = defaultGauge('dc');
const fine = gaugeFromYarnCategory(1, { stitch: 'sc' });
const net = defaultChoices('net');
const loops: Choices = { ...net, mesh: { ...net.mesh, kind: 'loop' } };
const sleeve = defaultChoices('sleeve');
const CASES: readonly (readonly [string, Plan, Plan])[] = [
  ['net, 72 x 200 mm', planned(72, 200, usual, net), planned(72, 200, usual, loops)],
  ['sleeve, 80 x 110 mm', planned(80, 110, usual, sleeve), planned(80, 120, usual, sleeve)],
  ['fine sleeve, 100 x 230 mm', planned(100, 230, fine, sleeve), planned(100, 220, fine, sleeve)],
];

type BenchPage = typeof import('./carrier-view-page.ts');

const code = await bundled('tests/bench/carrier-view-page.ts', 'carrierBench');
const browser = await launchDrawingChromium();
try {
  console.log('Milliseconds on the clock, and of processor time of the whole browser (all cores together), medians.');
  console.log('| carrier | stitches | first picture | frame of a turn | change of plan |');
  console.log('| --- | --- | --- | --- | --- |');
  for (const [name, plan, changed] of CASES) {
    const page = await browser.newPage();
    await page.setContent('<!doctype html>');
    await page.addScriptTag({ content: code });
    const bench = await page.evaluateHandle(() => (window as unknown as { carrierBench: BenchPage }).carrierBench);
    const first = await withCpu(() => bench.evaluate(({ first }, one) => first(one), plan));
    await bench.evaluate(({ turn }) => turn(2));
    const turned = await withCpu(() => bench.evaluate(({ turn }, frames) => turn(frames), FRAMES));
    const plans = [changed, plan, changed, plan];
    const change = await withCpu(() => bench.evaluate(({ change }, all) => change(all), plans));
    const cells = [
      `${first.value.stitches}`,
      `${first.value.ms.toFixed(0)} (${first.cpuMs.toFixed(0)})`,
      `${median(turned.value).toFixed(0)} (${(turned.cpuMs / FRAMES).toFixed(0)})`,
      `${median(change.value).toFixed(0)} (${(change.cpuMs / plans.length).toFixed(0)})`,
    ];
    console.log(`| ${name} | ${cells.join(' | ')} |`);
    await page.close();
  }
} finally {
  await browser.close();
}

async function withCpu<T>(work: () => Promise<T>): Promise<{ readonly value: T; readonly cpuMs: number }> {
  const before = cpuMsOfChildren();
  const value = await work();
  return { value, cpuMs: cpuMsOfChildren() - before };
}

/** Processor time so far of all processes under this one, from /proc (in ticks of 10 ms); 0 where there is none. */
function cpuMsOfChildren(): number {
  const parents = new Map<number, number>();
  const ticks = new Map<number, number>();
  for (const entry of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      const fields = readFileSync(`/proc/${entry}/stat`, 'utf8')
        .replace(/^.*\) /, '')
        .split(' ');
      parents.set(Number(entry), Number(fields[1]));
      ticks.set(Number(entry), Number(fields[11]) + Number(fields[12]));
    } catch {
      // ended meanwhile
    }
  }
  const isBelow = (pid: number): boolean =>
    pid > 1 && (parents.get(pid) === process.pid || isBelow(parents.get(pid) ?? 0));
  return [...ticks].reduce((sum, [pid, own]) => sum + (isBelow(pid) ? own * 10 : 0), 0);
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1];
}

function planned(diameterMm: number, heightMm: number, gauge: Gauge, choices: Choices): Plan {
  const result = planCarrier(containerFromTape({ diameterMm, heightMm }), gauge, choices);
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}
