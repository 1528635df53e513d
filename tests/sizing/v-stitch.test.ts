import { describe, expect, it } from 'vitest';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import { bodyChartSvg } from '../../sizing/draw/body-chart.ts';
import { carrierGeometry } from '../../sizing/draw/carrier-geometry.ts';
import { tallyRounds } from '../../sizing/forecast/tally.ts';
import { type Gauge, gaugeFromSwatch } from '../../sizing/gauge.ts';
import type { Plan, Round } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { parseOwnPattern, writeOwnPattern } from '../../sizing/regrade/own-pattern.ts';
import { ownPatternOf, regrade } from '../../sizing/regrade/regrade.ts';
import { drawingWords } from '../../web/plan/words/drawing-words.ts';
import { patternOf } from '../../web/plan/words/pattern.ts';
import { blocksAsText, patternBlocks } from '../../web/plan/words/pattern-text.ts';
import { type Reader, voiceOf } from '../../web/plan/words/voice.ts';
import { de } from '../../web/text/de/text.ts';
import { en } from '../../web/text/en/text.ts';
import { workPlan } from '../support/stitch-accountant.ts';

const US: Reader = { language: 'en', terms: 'us', units: 'cm', hand: 'right' };
const GERMAN: Reader = { language: 'de', terms: 'de', units: 'cm', hand: 'right' };
const GAUGE = gaugeFromSwatch({ stitch: 'dc', stitches: 16, widthMm: 100, rounds: 10, heightMm: 100 });
const BOTTLE = containerFromTape({ diameterMm: 73, heightMm: 210 });

describe('a net of V-stitches', () => {
  it('of dc, ch 1, dc stands over three stitches: a multiple of 3 (common practice, no source)', () => {
    // Around as the stitches are: 36 of 6.25 mm are 225 mm, the bottle 229.
    const made = plan(BOTTLE);
    const [first] = meshOf(made);
    const below = made.parts.find(({ name }) => name === 'wall')?.rounds.at(-1)?.stitches ?? 0;
    expect(first.spaces).toBe(below / 3);
    expect(made.zones.map(({ chains }) => chains)).toEqual([1]);
  });

  it('leaves two stitches and a space for every V, counted by the accountant, whatever is added on the way up', () => {
    let added = 0;
    for (const topDiameterMm of [50, 73, 120, 230]) {
      for (const postStitch of ['hdc', 'dc', 'tr'] as const) {
        const made = plan(containerFromTape({ diameterMm: 73, heightMm: 160, topDiameterMm }), { postStitch });
        const worked = workPlan(made);
        for (const round of meshOf(made)) {
          if (round.notes.some(({ code }) => code === 'cells-added')) added++;
          expect(round.stitches).toBe(2 * round.spaces);
          expect(worked[round.number - 1]).toMatchObject({ stitches: round.stitches, spaces: round.spaces });
        }
      }
    }
    expect(added).toBeGreaterThan(0);
  });

  it('takes twice the posts of a net of posts with as many spaces, and reaches as high', () => {
    const [vs, posts] = [plan(BOTTLE), plan(BOTTLE, { kind: 'post' })];
    const full = ({ parts }: Plan) => (parts.find(({ name }) => name === 'mesh')?.rounds ?? [])[3];
    expect(full(vs).spaces).toBe(full(posts).spaces);
    expect(tallyRounds([full(vs)]).dc).toBe(2 * tallyRounds([full(posts)]).dc);
    expect(vs.coverHeightMm?.value).toBeCloseTo(posts.coverHeightMm?.value ?? 0, 6);
  });

  it('is told as V-stitches, explained once, in both languages', () => {
    const made = plan(BOTTLE);
    const english = printed(made, US);
    expect(english).toContain('a ch-1 dc V is dc, ch 1, dc');
    expect(english).toMatch(
      /: Ch-1 sc V in same st as join, sk 2 sts, ch-1 hdc V in next st, sk 2 sts, \(ch-1 dc V in next st, sk 2 sts\) 10 times \(24 sts, 12 ch-1 sps/,
    );
    expect(english).toMatch(/: \(ch-1 dc V in next ch-sp\) 12 times \(24 dc, 12 ch-1 sps/);
    const german = printed(made, GERMAN);
    expect(german).toContain('1 Stb-V mit 1 Lm heißt 1 Stb, 1 Lm, 1 Stb in dieselbe Stelle');
    expect(german).toMatch(/: \(1 Stb-V mit 1 Lm um den nächsten Bogen\) 12× \(24 Stb, 12 Lm-Bögen/);
  });

  it('is charted with two posts from one place, and drawn with all its stitches', () => {
    const made = plan(BOTTLE);
    const rows = bodyChartSvg(made, drawingWords(en, voiceOf(US)))
      .split('<g>')
      .slice(2, 4);
    for (const row of rows) {
      const feet = [...row.matchAll(/<path d="M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)"/g)]
        .map((match) => match.slice(1).map(Number))
        .filter(([, from, , to]) => from - to > 8);
      // Four spaces are drawn: eight legs on four feet, leaning either way.
      expect(feet).toHaveLength(8);
      expect(new Set(feet.map(([x]) => x)).size).toBe(4);
      expect(feet.filter(([from, , to]) => to > from)).toHaveLength(4);
    }
    for (const round of meshOf(made)) {
      const drawn = carrierGeometry(made).stitches.filter(
        (each) => each.round === round.number && each.stitch !== 'sl st',
      );
      const tally = tallyRounds([round]);
      expect(drawn.reduce((sum, { counts }) => sum + counts, 0)).toBe(tally.sc + tally.hdc + tally.dc + tally.ch);
    }
  });

  it('can be typed as her own, comes back as typed, and regrades to another bottle', () => {
    const typed = '12, 24, 36 dc\nwall 1\n12 x v dc ch1\n11 rounds\nband 2';
    const read = parseOwnPattern(typed);
    if (read.outcome === 'not-read') return expect.fail(read.error.code);
    expect(read.pattern.mesh).toMatchObject({ kind: 'v-stitch', cells: 12, chains: 1, postStitch: 'dc' });
    expect(parseOwnPattern(writeOwnPattern(read.pattern))).toEqual(read);
    const result = regrade(
      { pattern: read.pattern, madeFor: BOTTLE, gauge: null },
      containerFromTape({ diameterMm: 95, heightMm: 150 }),
    );
    if (result.outcome !== 'planned') return expect.fail(JSON.stringify(result));
    expect(result.plan.zones[0].kind).toBe('v-stitch');
    expect(() => workPlan(result.plan)).not.toThrow();
    expect(ownPatternOf(plan(BOTTLE)).mesh?.kind).toBe('v-stitch');
  });
});

function plan(container: Container, mesh: Partial<Choices['mesh']> = {}, gauge: Gauge = GAUGE): Plan {
  const usual = defaultChoices('net');
  const result = planCarrier(container, gauge, { ...usual, mesh: { ...usual.mesh, kind: 'v-stitch', ...mesh } });
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

function meshOf({ parts }: Plan): readonly Round[] {
  return parts.find(({ name }) => name === 'mesh')?.rounds ?? [];
}

function printed(made: Plan, reader: Reader): string {
  const text = reader.language === 'de' ? de : en;
  return blocksAsText(patternBlocks(patternOf('', made, text, voiceOf(reader)), text), Number.POSITIVE_INFINITY);
}
