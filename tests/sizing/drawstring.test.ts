import { describe, expect, it } from 'vitest';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import { bodyChartSvg } from '../../sizing/draw/body-chart.ts';
import { carrierGeometry } from '../../sizing/draw/carrier-geometry.ts';
import { defaultGauge, type Gauge, gaugeFromSwatch } from '../../sizing/gauge.ts';
import type { Plan, Round } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { drawingWords } from '../../web/plan/words/drawing-words.ts';
import { patternOf } from '../../web/plan/words/pattern.ts';
import { blocksAsText, patternBlocks } from '../../web/plan/words/pattern-text.ts';
import { type Reader, voiceOf } from '../../web/plan/words/voice.ts';
import { de } from '../../web/text/de/text.ts';
import { en } from '../../web/text/en/text.ts';
import { workPlan } from '../support/stitch-accountant.ts';

/** 80 mm across to 120 mm, then a shoulder to a neck of 36 mm at 150 mm: its slope is hypot(30, 22) = 37.2 mm. */
const FLASK = profiled([
  [0, 40],
  [120, 40],
  [150, 18],
  [180, 18],
]);
const CAN = containerFromTape({ diameterMm: 66, heightMm: 115 });
const GAUGES = [10, 13, 16, 19, 22, 26].map((perTen) =>
  gaugeFromSwatch({ stitch: 'sc', stitches: perTen, widthMm: 100, rounds: perTen * 1.1, heightMm: 100 }),
);

describe('a top that a cord draws together', () => {
  it('has a hole to every two stitches and as many stitches over the holes as under them, worked on from the band', () => {
    const odd: boolean[] = [];
    for (const gauge of GAUGES) {
      for (const carrier of ['net', 'sleeve'] as const) {
        for (const diameterMm of [60, 71, 84]) {
          const made = plan(containerFromTape({ diameterMm, heightMm: 160, topDiameterMm: 40 }), carrier, gauge);
          const band = roundsOf(made, 'band');
          const [under, holes, over] = band.slice(-3);
          if (!made.drawstring) return expect.fail('no drawstring');
          expect(holes.number).toBe(made.drawstring.holesRound);
          expect([holes.spaces, made.drawstring.holes]).toEqual([Math.floor(under.stitches / 2), holes.spaces]);
          expect(over.stitches).toBe(under.stitches);
          odd.push(under.stitches % 2 === 1);
          // The accountant counts what the steps make, knowing nothing of this.
          const worked = workPlan(made);
          for (const round of band) {
            expect(worked[round.number - 1]).toMatchObject({ stitches: round.stitches, spaces: round.spaces });
          }
        }
      }
    }
    expect(odd).toContain(true);
    expect(odd).toContain(false);
  });

  it('has a collar as long as the shoulder, to a round, and none where there is no shoulder', () => {
    for (const gauge of GAUGES) {
      const made = plan(FLASK, 'net', gauge);
      const row = gauge.roundHeightMm.value;
      const band = roundsOf(made, 'band');
      const bandEndsMm = band[made.choices.band.rounds - 1].heightMm?.value ?? 0;
      // Along the slope from where the band ends; below the shoulder also what is straight.
      const slope = Math.hypot(30, 22);
      const left = bandEndsMm <= 120 ? 120 - bandEndsMm + slope : slope * ((150 - bandEndsMm) / 30);
      const collarMm = (made.drawstring?.collarRounds ?? 0) * row;
      expect(collarMm).toBeLessThanOrEqual(Math.min(60, left) + 1e-6);
      expect(collarMm).toBeGreaterThan(Math.min(60, left) - row - 2);
      expect(plan(CAN, 'net', gauge).drawstring?.collarRounds).toBe(0);
    }
  });

  it('has a cord that goes once round the open top, with 15 cm to tie on either side (common practice, no source)', () => {
    const made = plan(FLASK, 'net', GAUGES[2]);
    const around = roundsOf(made, 'band').at(-1)?.stitches ?? 0;
    expect(made.drawstring?.cordLengthMm).toBeCloseTo(around * (100 / 16) + 300, 9);
    const yarn = made.parts.find(({ name }) => name === 'drawstring')?.yarnMetres.value ?? 0;
    // 13 mm of yarn a mm of cord (derived), a stitch of 0.7 widths, and two tails of 15 cm.
    const cordMm = (made.drawstring?.stitches ?? 0) * 0.7 * (100 / 16);
    expect(yarn).toBeCloseTo((13 * cordMm + 300) / 1000, 6);
  });

  it('closes what would gape, and is not called loose', () => {
    const chosen = { ...defaultChoices('net'), coverHeightMm: 150 };
    const open = planned(planCarrier(FLASK, GAUGES[2], chosen));
    const drawn = planned(planCarrier(FLASK, GAUGES[2], { ...chosen, top: 'drawstring' }));
    expect(open.fit.verdict).toMatchObject({ kind: 'unlikely', problem: 'too loose', where: 'band' });
    expect(drawn.fit.verdict).not.toMatchObject({ kind: 'unlikely' });
    expect(drawn.warnings.map(({ code }) => code)).not.toContain('band-loose');
    // What goes over the widest part stays checked.
    expect(drawn.band?.goesIn).toBe(true);
    const tight = { ...chosen, top: 'drawstring', band: { ...chosen.band, stitchesPerSpace: 1 } } as const;
    expect(planned(planCarrier(FLASK, GAUGES[2], tight)).warnings.map(({ code }) => code)).toContain('band-too-tight');
  });

  it('warns of its cord, strap or none', () => {
    const made = plan(FLASK, 'sleeve', GAUGES[2]);
    expect(made.strap).toBeNull();
    expect(made.cautions.map(({ code }) => code).slice(0, 2)).toEqual(['caution-children', 'caution-rules']);
    expect(patternOf('', made, en, voiceOf(US)).label.join(' ')).toContain('Cord loops can strangle');
  });

  it('is told round by round, and how to thread it, in both languages', () => {
    const made = plan(FLASK, 'net', GAUGES[2]);
    const holes = made.drawstring?.holesRound;
    const english = printed(made, US);
    expect(english).toMatch(
      new RegExp(
        `^Rnd ${holes}: Sc in next 2 sts, ch 1, sk 1 st, \\(sc in next st, ch 1, sk 1 st\\) 18 times \\(20 sc, 19 ch-1 sps`,
        'm',
      ),
    );
    expect(english).toMatch(
      /Sc in next 2 sts, sc in next ch-sp, \(sc in next st, sc in next ch-sp\) 18 times, sl st in next st to level \(39 sc/,
    );
    expect(english).toContain(`in and out through the holes of rnd ${holes}`);
    expect(english).toContain('knot each end, draw it together over the shoulder');
    const german = printed(made, GERMAN);
    expect(german).toMatch(
      new RegExp(
        `^${holes}\\. Rd: 2 fM, 1 Lm, 1 M übergehen, \\(1 fM, 1 Lm, 1 M übergehen\\) 18× \\(20 fM, 19 Lm-Bögen`,
        'm',
      ),
    );
    expect(german).toContain(`durch die Löcher der ${holes}. Rd fädeln`);
  });

  it('is charted, hole by hole, and drawn with its cord', () => {
    const made = plan(FLASK, 'net', GAUGES[2]);
    const ovals = (each: Plan) => bodyChartSvg(each, drawingWords(en, voiceOf(US))).match(/<ellipse/g)?.length ?? 0;
    const without = planned(planCarrier(FLASK, GAUGES[2], defaultChoices('net')));
    // Four spaces of the net are drawn, and the holes above those.
    const perSpace = (made.drawstring?.holes ?? 0) / made.zones[0].cells;
    expect(ovals(made) - ovals(without)).toBe(Math.round(4 * perSpace));
    const cord = carrierGeometry(made).stitches.filter(({ part }) => part === 'drawstring');
    expect(cord).toHaveLength(made.drawstring?.stitches ?? 0);
  });
});

const US: Reader = { language: 'en', terms: 'us', units: 'cm', hand: 'right' };
const GERMAN: Reader = { language: 'de', terms: 'de', units: 'cm', hand: 'right' };

function plan(container: Container, carrier: Choices['carrier'] = 'net', gauge: Gauge = defaultGauge()): Plan {
  return planned(planCarrier(container, gauge, { ...defaultChoices(carrier), top: 'drawstring' }));
}

function planned(result: ReturnType<typeof planCarrier>): Plan {
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

function roundsOf({ parts }: Plan, name: 'band'): readonly Round[] {
  return parts.find((part) => part.name === name)?.rounds ?? [];
}

function printed(made: Plan, reader: Reader): string {
  const text = reader.language === 'de' ? de : en;
  return blocksAsText(patternBlocks(patternOf('', made, text, voiceOf(reader)), text), Number.POSITIVE_INFINITY);
}

function profiled(points: readonly (readonly [number, number])[]): Container {
  const widestMm = 2 * Math.max(...points.map(([, radiusMm]) => radiusMm));
  return {
    ...containerFromTape({ diameterMm: 2 * points[0][1], heightMm: points[points.length - 1][0] }),
    maxDiameterMm: { value: widestMm, sd: 0.5 },
    profile: points.map(([zMm, radiusMm]) => ({ zMm, radiusMm, sdMm: 0.3 })),
  };
}
