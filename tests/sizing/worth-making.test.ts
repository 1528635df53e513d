import { describe, expect, it } from 'vitest';
import { stacked } from '../../sizing/body/shaping.ts';
import { type Choices, defaultChoices } from '../../sizing/choices.ts';
import { type Container, containerFromTape } from '../../sizing/container.ts';
import { replan } from '../../sizing/follow/replan.ts';
import { defaultGauge, type Gauge, gaugeFromSwatch, gaugeFromYarnCategory } from '../../sizing/gauge.ts';
import { type BaseAim, type BaseCandidate, isOwnPiece, type Plan, type Round, type Step } from '../../sizing/plan.ts';
import { planCarrier } from '../../sizing/plan-carrier.ts';
import { patternOf } from '../../web/plan/words/pattern.ts';
import { blocksAsText, patternBlocks } from '../../web/plan/words/pattern-text.ts';
import { IN_ENGLISH, voiceOf } from '../../web/plan/words/voice.ts';
import { de } from '../../web/text/de/text.ts';
import { en } from '../../web/text/en/text.ts';
import { flatSteps } from '../support/flat-steps.ts';
import { seededRandom } from '../support/seeded-random.ts';
import { workPlan } from '../support/stitch-accountant.ts';

const net = defaultChoices('net');
const loops: Choices = { ...net, mesh: { ...net.mesh, kind: 'loop' } };
const NO_BAND = { rounds: 0, stitchesPerSpace: null };
const bottle = containerFromTape({ diameterMm: 73, heightMm: 210 });
const ownSc = gaugeFromSwatch({ stitch: 'sc', stitches: 20, widthMm: 100, rounds: 22, heightMm: 100 });

describe('the strap goes by the load (1.5 and 3 kg: common practice, no source)', () => {
  it('is a doubled cord under the base from 1.5 kg, and none from 3 kg, with a word about it', () => {
    // Outer volumes full of water, by pi d^2 h / 4: 0.88, 1.9 and 28.3 l.
    const [light, heavy, tooHeavy] = [
      [73, 210],
      [110, 205],
      [300, 400],
    ].map(([diameterMm, heightMm]) => plan(containerFromTape({ diameterMm, heightMm })));
    expect(light.strap).toMatchObject({ style: 'cross-body', fastening: 'tabs', cord: 'single', pieces: 1 });
    expect(heavy.strap).toMatchObject({ fastening: 'under-base', cord: 'double', pieces: 2, tab: null });
    expect(codes(heavy)).toContain('load-heavy');
    expect(tooHeavy.strap).toBeNull();
    expect(codes(tooHeavy)).toContain('load-too-heavy');
  });

  it('asked for all the same beyond 3 kg comes with the warning', () => {
    const asked = plan(containerFromTape({ diameterMm: 180, heightMm: 250 }), withStrap('cross-body'));
    expect(asked.strap?.fastening).toBe('under-base');
    expect(codes(asked)).toContain('load-too-heavy');
  });

  it('claims no strength for a yarn whose label nobody read, and warns of a thin margin where it was read', () => {
    expect(plan(bottle).load.marginOfOneKnottedStrand).toBeNull();
    // 500 m per 100 g: 17 cN/tex x 200 tex x 45 % = 15.3 N (handbook tenacity, published knot), over 8.6 N.
    const thin = { ...defaultGauge(), yarn: { ...defaultGauge().yarn, metresPer100g: 500, assumed: false } };
    const weak = plan(bottle, net, thin);
    expect(Math.abs((weak.load.marginOfOneKnottedStrand ?? 0) - 15.3 / weak.load.staticForceN)).toBeLessThan(0.01);
    expect(codes(weak)).toContain('strand-weak');
  });

  it('can be sewn as written: tabs as high as the cord lies on them, apart from each other, with tail enough', () => {
    let straps = 0;
    for (const made of manyPlans(150)) {
      const { strap } = made;
      if (!strap) continue;
      straps++;
      const runs = strap.style === 'handles' ? 2 : 1;
      if (strap.tab) {
        expect(strap.tab.heightMm).toBeGreaterThanOrEqual(strap.sewMm);
        expect(strap.at.length * strap.tab.stitches).toBeLessThanOrEqual(strap.topStitches);
        expect(strap.cordLengthMm).toBeCloseTo(strap.lengthMm / 1.05 + 2 * strap.sewMm, 6);
      } else {
        // Down one side, under the base and up the other is at least twice the height of the carrier.
        const upAndDown = 2 * (made.coverHeightMm?.value ?? 0) * runs;
        expect(strap.cordLengthMm).toBeGreaterThan((strap.lengthMm / 1.05) * runs + upAndDown);
      }
      // Both edges and the end, twice round, a stitch taking some two and a half times what it covers.
      expect(strap.tailMm).toBeGreaterThanOrEqual(2 * (2 * strap.sewMm + 10) * 2.5);
    }
    expect(straps).toBeGreaterThan(50);
  });
});

describe('a flat strap', () => {
  const flat = (over: Partial<Choices['strap']> = {}): Choices => ({
    ...net,
    strap: { ...net.strap, cord: 'flat', ...over },
  });

  it('has four to six single crochets a row (common practice, no source), no wider than its tab, and rows for its length', () => {
    let straps = 0;
    for (const perTen of [10, 13, 16, 20, 24, 30]) {
      for (const style of ['cross-body', 'shoulder', 'wrist', 'handles'] as const) {
        for (const fastening of ['tabs', 'under-base'] as const) {
          const { strap } = plan(bottle, flat({ style, fastening }), swatch('sc', perTen, perTen * 1.1));
          if (!strap) return expect.fail(style);
          straps++;
          expect(strap.across).toBeLessThanOrEqual(6);
          expect(strap.across).toBeGreaterThanOrEqual(Math.min(4, strap.tab?.stitches ?? 4));
          expect(strap.across).toBeLessThanOrEqual(strap.tab?.stitches ?? 6);
          // A row is 100 mm over its rows on 10 cm; the last one may go beyond the length.
          const rowMm = 100 / (perTen * 1.1);
          expect(strap.stitches * rowMm - strap.cordLengthMm).toBeGreaterThanOrEqual(-1e-6);
          expect(strap.stitches * rowMm - strap.cordLengthMm).toBeLessThan(rowMm);
        }
      }
    }
    expect(straps).toBe(48);
  });

  it('takes the yarn of its single crochets, nine stitch widths each (derived from published samples), and of its chains', () => {
    const made = plan(bottle, flat({ style: 'cross-body', fastening: 'tabs' }), ownSc);
    const cordPlan = plan(bottle, withStrap('cross-body'), ownSc);
    const { strap } = made;
    if (!strap) return expect.fail('no strap');
    const metres = (each: Plan) => each.parts.find(({ name }) => name === 'strap')?.yarnMetres.value ?? 0;
    // What both have, tabs and tails, cancels out. A cord takes 13 mm of yarn a mm (derived), a stitch of it 0.7 widths.
    const stitchesMm = strap.across * strap.stitches * 9 * 5;
    const chainsMm = (strap.across + strap.stitches) * 4.95 * 5;
    const cordMm = (cordPlan.strap?.stitches ?? 0) * 3.5 * 13;
    expect(metres(made) - metres(cordPlan)).toBeCloseTo((stitchesMm + chainsMm - cordMm) / 1000, 6);
  });

  it('is told row by row, and sewn on by its own name, in every language', () => {
    const made = plan(bottle, flat({ style: 'cross-body' }));
    const told = printed(made);
    expect(told).toContain(
      'Flat strap (work 1): Leaving a 40 cm tail, ch 5, sc in 2nd ch from hook and in each ch (4 sc), turn; *ch 1, sc in each of the 4 sts, turn; rep from *',
    );
    expect(told).toContain('Lay 2.5 cm of each strap end on the inside of a tab, the strap pointing up');
    expect(told).not.toMatch(/cord (end|pointing)/);
    const german = blocksAsText(
      patternBlocks(patternOf('', made, de, voiceOf({ language: 'de', terms: 'de', units: 'cm', hand: 'right' })), de),
      Number.POSITIVE_INFINITY,
    );
    expect(german).toContain(
      '5 Lm, ab der 2. Lm ab Nadel je 1 fM in jede Lm (4 fM), wenden; *1 Lm, 4 fM, wenden; ab * wdh',
    );
    expect(german).toContain('Jedes Gurtende 2,5 cm weit innen auf eine Lasche legen, den Gurt nach oben');
  });
});

describe('the band', () => {
  it.each<[string, Container, number, Gauge]>([
    [
      'hdc, 95 to 70 mm',
      containerFromTape({ diameterMm: 95, topDiameterMm: 70, heightMm: 127 }),
      95 - (25 * 4) / 127,
      swatch('hdc', 16, 12.5),
    ],
    [
      'dc, a neck',
      profiled([
        [0, 40],
        [120, 40],
        [150, 26],
        [180, 26],
      ]),
      80,
      swatch('dc', 16, 10),
    ],
  ])(
    'is never planned too tight to pass (%s): a third of the give is kept as margin',
    (_name, container, widestMmAcross, gauge) => {
      const { band } = plan(container, net, gauge);
      expect(band?.goesIn).toBe(true);
      // Independent count: the wall 4 mm up, where its rounded edge ends, over the band's own length.
      const widestMm = Math.PI * widestMmAcross;
      expect(widestMm / ((band?.stitches ?? 0) * gauge.stitchWidthMm.value) - 1).toBeLessThanOrEqual(0.08 + 1e-9);
    },
  );

  it('never contradicts itself on narrowing containers', () => {
    for (const made of manyPlans(150)) {
      if (made.choices.band.stitchesPerSpace === null && made.zones.length > 0) {
        expect(codes(made)).not.toContain('band-too-tight');
      }
    }
  });
});

describe('a height measured near the end', () => {
  const made = plan(bottle);
  const mesh = made.parts.find(({ name }) => name === 'mesh')?.rounds ?? [];
  const last = mesh[mesh.length - 1];

  it('is asked for before the round that brings the spiral down, not finer than a ruler reads', () => {
    const heights = made.checkpoints.filter(({ measure }) => measure === 'height above the table');
    expect(heights.at(-1)?.afterRound).toBe(last.number - 1);
    for (const { goOnMm } of heights) expect(goOnMm[1] - goOnMm[0]).toBeGreaterThanOrEqual(6);
  });

  it('asks to work a round over again only where that leaves the count, and for a next round only where there is one', () => {
    let [again, straight, atTop] = [0, 0, 0];
    for (const each of [...manyPlans(80), plan(bottle, { ...defaultChoices('sleeve'), band: NO_BAND }, ownSc)]) {
      const all = rounds(each).filter(({ part }) => !isOwnPiece(part));
      for (const { ifLess, ifMore } of each.checkpoints) {
        if (ifLess.code !== 'one-round-more' || ifMore.code !== 'last-round-now') continue;
        expect(ifMore.last).toBe(ifLess.last);
        if (ifLess.last === null) atTop++;
        else expect(ifLess.last).toBeLessThanOrEqual(all.length);
        if (ifLess.again === null) {
          straight++;
          continue;
        }
        again++;
        const [below, round] = [all[ifLess.again - 2], all[ifLess.again - 1]];
        // Worked over again it takes as many places as it leaves: the accountant works it twice.
        expect([below.stitches, below.spaces]).toEqual([round.stitches, round.spaces]);
        const twice = [
          ...all.slice(0, ifLess.again),
          { ...round, number: round.number + 1, starts: 'next stitch' as const },
        ];
        expect(() => workPlan({ parts: [{ ...each.parts[0], rounds: twice }] })).not.toThrow();
      }
    }
    expect(Math.min(again - 30, straight, atTop)).toBeGreaterThan(0);
  });

  it('too low after the last round: that round is worked anew, and one ramp is left', () => {
    const low = replan(made, { afterRound: last.number, measuredHeightMm: 125, sdMm: 1, confirmed: true });
    if (low.outcome === 'refused') return expect.fail(low.reason.code);
    expect(low.advice).toMatchObject({ action: 'rip back', keepRounds: last.number - 1 });
    const after = low.plan.parts.find(({ name }) => name === 'mesh')?.rounds ?? [];
    expect(after.length).toBeGreaterThan(mesh.length);
    expect(after.filter((round) => round.steps.some((step) => step.do === 'level'))).toHaveLength(1);
    expect(() => workPlan(low.plan)).not.toThrow();
  });

  it('too high: as many rounds come off as the plan would have worked fewer', () => {
    const high = replan(made, { afterRound: last.number, measuredHeightMm: 165, sdMm: 1, confirmed: true });
    if (high.outcome === 'refused') return expect.fail(high.reason.code);
    expect(high.advice.action).toBe('rip back');
    expect(high.advice.keepRounds).toBeLessThan(last.number - 1);
    expect(() => workPlan(high.plan)).not.toThrow();
  });
});

describe('the forecast', () => {
  it('does not call a band that gapes where it sits a fit', () => {
    const necked = plan(
      profiled([
        [0, 40],
        [120, 40],
        [150, 18],
        [180, 18],
      ]),
      { ...net, coverHeightMm: 155 },
      swatch('dc', 16, 10),
    );
    expect(necked.band?.slackAtSeat).toBeGreaterThan(0.3);
    expect(necked.fit.verdict).toMatchObject({ kind: 'unlikely', problem: 'too loose', where: 'band' });
    expect(codes(necked)).toContain('band-loose');
  });

  it('judges a sleeve by its wall: where it passes and where it grips', () => {
    const sleeve = plan(bottle, defaultChoices('sleeve'), ownSc);
    expect(sleeve.fit.tightest).toBe('wall');
    const waisted = profiled([
      [0, 40],
      [60, 40],
      [100, 28],
      [140, 30],
    ]);
    const loose = plan(waisted, { ...defaultChoices('sleeve'), coverHeightMm: 125 }, ownSc);
    const warning = loose.warnings.find(({ code }) => code === 'wall-loose');
    expect(warning).toMatchObject({ stitches: expect.any(Number), hugging: expect.any(Number) });
    if (warning?.code === 'wall-loose') expect(warning.hugging).toBeLessThan(warning.stitches);
  });

  it('shows no percentage and no odds of a guess, and holds a range for an own gauge', () => {
    const guessed = patternOf('', plan(bottle), en, voiceOf(IN_ENGLISH)).fit;
    expect(`${guessed.headline} ${guessed.more} ${guessed.figures.join(' ')}`).not.toMatch(/%|\d+ (of|in|out of)/);
    expect(guessed.headline).toBe('Start now. After round 2 measure once; then it fits nine times out of ten.');
    const own = patternOf('', plan(bottle, net, swatch('dc', 16, 10)), en, voiceOf(IN_ENGLISH)).fit;
    expect(own.headline).toBe('Should fit.');
    expect(own.more).toMatch(/It holds containers \d+–\d+ mm across\./);
  });
});

describe('a top that is worked round the container', () => {
  const waisted = profiled([
    [0, 40],
    [60, 40],
    [100, 28],
    [140, 30],
  ]);
  const necked = profiled([
    [0, 40],
    [120, 40],
    [150, 18],
    [180, 18],
  ]);
  const sleeve = { ...defaultChoices('sleeve'), coverHeightMm: 125 };
  const dc = swatch('dc', 16, 10);

  it('hugs a waist, where pulled over it would stand off, and leaves the rounds below as they are', () => {
    const [over, around] = (['pulled-over', 'around'] as const).map((top) => plan(waisted, { ...sleeve, top }, ownSc));
    // 5 mm a stitch, a waist of 28 mm radius, 5 % tighter: 2 pi x 28 x 0.95 / 5 = 33.4; pulled over 40 mm it needs 46.5.
    expect(fewestOfWall(over)).toBe(47);
    expect(fewestOfWall(around)).toBeLessThanOrEqual(35);
    expect(fewestOfWall(around)).toBeGreaterThanOrEqual(33);
    expect(codes(over)).toContain('wall-loose');
    expect(codes(around)).not.toContain('wall-loose');
    const below = ({ heightMm }: Round) => heightMm === null || heightMm.value < 60;
    expect(rounds(around).filter(below)).toEqual(rounds(over).filter(below));
    expect(() => workPlan(around)).not.toThrow();
  });

  it('has a band that hugs a neck', () => {
    const chosen = { ...net, coverHeightMm: 155 };
    const [over, around] = (['pulled-over', 'around'] as const).map((top) => plan(necked, { ...chosen, top }, dc));
    // 6.25 mm a stitch, 2 pi x 18 / 6.25 = 18.1 stitches.
    expect(over.band?.stitches).toBeGreaterThan(36);
    expect(around.band?.stitches).toBeLessThanOrEqual(20);
    expect(around.fit.verdict).not.toMatchObject({ kind: 'unlikely' });
    expect(() => workPlan(around)).not.toThrow();
  });

  it('says once from which round on the container is inside, and does not ask to put it in at the end', () => {
    const around = plan(necked, { ...net, coverHeightMm: 155, top: 'around' }, dc);
    const noted = rounds(around).filter(({ notes }) => notes.some(({ code }) => code === 'container-inside'));
    expect(noted).toHaveLength(1);
    // The neck begins at 120 mm; fabric stretches over the first 8 % of it, down to a radius of 37 mm at 124 mm.
    expect(noted[0].heightMm?.value).toBeGreaterThan(124);
    const before = rounds(around)[noted[0].number - 2];
    expect(before.heightMm?.value).toBeLessThanOrEqual(125);
    expect(printed(around)).toContain('From this rnd on work with the container inside, right round it.');
    expect(printed(around)).not.toContain('Before you fasten off, put the container in');
  });

  it('changes nothing on a container that does not narrow', () => {
    const { choices: _, ...around } = plan(bottle, { ...net, top: 'around' });
    const { choices: __, ...over } = plan(bottle);
    expect(around).toEqual(over);
  });
});

describe('chains that were typed', () => {
  it('are refused where no net can be worked of them, with the count that can', () => {
    const result = planCarrier(bottle, ownSc, { ...loops, mesh: { ...loops.mesh, chains: 2 } });
    if (result.outcome === 'planned' || result.reason.code !== 'cells-too-small') return expect.fail('was planned');
    const { fits } = result.reason;
    const made = plan(bottle, { ...loops, mesh: { ...loops.mesh, chains: fits } }, ownSc);
    expect(made.zones.map((zone) => zone.fits)).toEqual(['easy']);
  });

  it('too many are answered by the count that fits, not by one fewer', () => {
    const made = plan(bottle, { ...net, mesh: { ...net.mesh, chains: 15, skip: 1 } }, ownSc);
    const warning = made.warnings.find(({ code }) => code === 'mesh-loose');
    if (warning?.code !== 'mesh-loose') return expect.fail('no warning');
    const mended = plan(bottle, { ...net, mesh: { ...net.mesh, chains: warning.chains, skip: 1 } }, ownSc);
    expect(mended.zones[0].fits).toBe('easy');
  });

  it('a net drawn over a cone is not told to contradict itself', () => {
    const cone = plan(containerFromTape({ diameterMm: 73, topDiameterMm: 20, heightMm: 210 }));
    expect(codes(cone)).not.toContain('mesh-loose');
    expect(codes(cone)).toContain('mesh-loose-at-narrow');
  });
});

describe('what a pattern says', () => {
  it('speaks of lower stitches only where it has some', () => {
    const tiny = plan(
      containerFromTape({ diameterMm: 28, heightMm: 60 }),
      net,
      gaugeFromYarnCategory(5, { stitch: 'dc' }),
    );
    for (const round of rounds(tiny)) {
      if (round.notes.some(({ code }) => code === 'ramp-up' || code === 'ramp-down')) {
        expect(
          new Set(flatSteps(round.steps).flatMap((step) => ('stitch' in step ? [step.stitch] : []))).size,
        ).toBeGreaterThan(1);
      }
    }
  });

  it('ends every carrier: fastened off, and a spiral brought down level', () => {
    const ends: [Choices, Gauge][] = [
      [{ ...defaultChoices('sleeve'), band: { rounds: 0, stitchesPerSpace: null } }, ownSc],
      [defaultChoices('mat'), ownSc],
      [defaultChoices('mat'), defaultGauge('hdc')],
    ];
    for (const [chosen, gauge] of ends) {
      const made = plan(bottle, chosen, gauge);
      expect(rounds(made).at(-1)?.steps.at(-1)).toEqual({ do: 'level', into: 'stitch' });
      expect(printed(made)).toContain('Fasten off, leave 15 cm.');
    }
  });

  it('explains every abbreviation it uses', () => {
    const narrowing = plan(
      containerFromTape({ diameterMm: 95, topDiameterMm: 60, heightMm: 127 }),
      defaultChoices('sleeve'),
      ownSc,
    );
    expect(printed(narrowing)).toContain('2tog = work 2 sts together');
    expect(printed(narrowing)).toMatch(/sc2tog/);
  });

  it('marks a put-up that nobody read, and gives every ± as a 95 % interval', () => {
    const guessed = plan(bottle);
    expect(printed(guessed)).toContain('(assumed: see your ball band)');
    const read = plan(bottle, net, { ...defaultGauge(), yarn: { ...defaultGauge().yarn, assumed: false } });
    expect(printed(read)).not.toContain('assumed');
    const half = Math.ceil(1.96 * guessed.yarn.metres.sd - 1e-9);
    expect(printed(guessed)).toContain(`${Math.round(guessed.yarn.metres.value)} ± ${half} m`);
  });

  it('keeps the tension the counts were made with', () => {
    expect(printed(plan(bottle))).not.toMatch(/firmly/);
  });

  it('notices a hook that does not go with the yarn, and a yarn that does not go with the stitch', () => {
    expect(codes(plan(bottle, net, gaugeFromYarnCategory(7, { hookMm: 1.5, stitch: 'sc' })))).toContain(
      'hook-unlike-yarn',
    );
    const odd = { ...ownSc, yarn: { ...ownSc.yarn, metresPer100g: 30, assumed: false } };
    expect(codes(plan(bottle, net, odd))).toContain('yarn-unlike-gauge');
    expect(codes(plan(bottle))).toEqual(['gauge-guessed']);
  });
});

describe('the base', () => {
  const NETS = manyNets(120);
  it('keeps increases off those of the last round that had some: never within a fifth of a gap', () => {
    for (const made of manyPlans(60)) {
      let before: readonly number[] = [];
      for (const round of rounds(made).filter(({ part }) => part === 'base' || part === 'wall')) {
        const at = increasesAt(round.steps);
        if (at.length === 0) continue;
        if (at.length === before.length) expect(stacked(at, before), `round ${round.number}`).toBeLessThan(0.6);
        before = at;
      }
    }
  });

  it('goes on into a wall whose lone increases stand in no ridges: three in a row keep an eighth of a turn apart', () => {
    const cup = containerFromTape({ diameterMm: 56, topDiameterMm: 90, heightMm: 115 });
    const shaped = rounds(plan(cup, defaultChoices('sleeve'), ownSc))
      .filter(({ part }) => part === 'wall')
      .map(({ steps }) => increasesAt(steps))
      .filter((at) => at.length > 0);
    expect(shaped.length).toBeGreaterThan(10);
    expect(shaped.every((at) => at.length === 1)).toBe(true);
    shaped.slice(2).forEach(([at], index) => {
      for (const [before] of [shaped[index], shaped[index + 1]]) {
        const apart = Math.abs(at - before);
        expect(Math.min(apart, 1 - apart), `${index}`).toBeGreaterThan(1 / 8);
      }
    });
  });

  it('is easy to count where it is recommended: one stitch throughout and even skips', () => {
    // Of 600 plans of an earlier way 68 in 100 changed their stitch at the end and 33 in 100 skipped unevenly.
    const [easy, close] = [offersOf(NETS, 'easiest'), offersOf(NETS, 'fit')];
    const share = (offers: readonly Offer[], is: (offer: Offer) => boolean) => offers.filter(is).length / offers.length;
    const changes = ({ base, plan: made }: Offer) => base.lastStitch !== made.gauge.stitch;
    const uneven = ({ base, plan: made }: Offer) => base.stitchesAround % (made.choices.mesh.skip + 1) !== 0;
    expect(share(easy, changes)).toBeLessThan(0.55);
    expect(share(easy, uneven)).toBeLessThan(0.2);
    expect(share(easy, changes)).toBeLessThan(share(close, changes) - 0.1);
    // What is given up for it: a rim within the 6 to 8 % that a net takes up (common practice, no source).
    const off = ({ base, plan: made }: Offer) =>
      Math.abs(
        (base.stitchesAround * made.gauge.stitchWidthMm.value) / (Math.PI * made.container.baseDiameterMm.value) - 1,
      );
    expect(share(easy, (offer) => off(offer) <= 0.06)).toBeGreaterThan(0.95);
  });

  it('is skipped as evenly by the words as the counts promise', () => {
    for (const { base, plan: made } of offersOf(NETS, 'easiest')) {
      const first = made.parts.find(({ name }) => name === 'mesh')?.rounds[0];
      const skips = new Set(flatSteps(first?.steps ?? []).flatMap((step) => (step.do === 'skip' ? [step.count] : [])));
      expect(skips.size === 1, `${base.stitchesAround} sts`).toBe(
        base.stitchesAround % (made.choices.mesh.skip + 1) === 0,
      );
    }
  });

  it('is offered in ways that differ: in start, rounds or stitch, or by more than 1 % in width; each aim is named once', () => {
    let several = 0;
    for (const { candidates } of NETS) {
      if (candidates.length > 1) several++;
      expect(candidates.flatMap(({ aims }) => aims).sort()).toEqual(['easiest', 'fit', 'flattest']);
      candidates.forEach((one, index) => {
        for (const other of candidates.slice(index + 1)) {
          const alike = one.start === other.start && one.rounds === other.rounds && one.lastStitch === other.lastStitch;
          const sameWidth = Math.abs(one.widthMm.value / other.widthMm.value - 1) < 0.0099;
          expect(alike && sameWidth && Math.abs(one.stitchesAround - other.stitchesAround) <= 1).toBe(false);
        }
      });
    }
    // In the others one way is the best for every aim.
    expect(several / NETS.length).toBeGreaterThan(0.25);
  });

  it('is at its flattest, or its closest, where the offer says so', () => {
    for (const made of NETS) {
      const flattest = made.candidates.find(({ aims }) => aims.includes('flattest'));
      for (const other of made.candidates) {
        // By h/w of the whole disc: 2 pi times its reach over its stitches, a stitch being the finest step there is.
        const step = 1.5 / other.stitchesAround;
        expect(unflat(made, flattest as BaseCandidate)).toBeLessThanOrEqual(unflat(made, other) + step);
      }
    }
  });

  it('is checked from the second round on, or from 25 mm; the second is the best check of an everyday bottle', () => {
    const made = plan(bottle, net, gaugeFromYarnCategory(3, { hookMm: 4 }));
    expect(made.fit.bestCheck?.afterRound).toBe(2);
    for (const { afterRound, expectedMm, measure } of plan(bottle, net, defaultGauge('sc')).checkpoints) {
      expect(afterRound > 1 || measure !== 'width across' || expectedMm.value >= 25).toBe(true);
    }
  });

  it('asks back when a radius is typed for a diameter, and takes it when it is confirmed', () => {
    const made = plan(bottle);
    const widthMm = made.parts[0].rounds[2].widthMm?.value ?? 0;
    const half = { afterRound: 3, measuredWidthMm: widthMm / 2, sdMm: 1 };
    expect(replan(made, half)).toMatchObject({
      outcome: 'refused',
      reason: { code: 'unlikely-reading', perhaps: 'radius' },
    });
    expect(replan(made, { ...half, confirmed: true }).outcome).toBe('planned');
  });
});

it('costs count the yarn that goes in, not the balls to buy', () => {
  const priced = { ...defaultGauge(), yarn: { ...defaultGauge().yarn, pricePerBall: 3.5 } };
  const { cost, yarn } = plan(bottle, net, priced);
  expect(cost?.material).toBeCloseTo((3.5 * yarn.grams.value) / 50, 9);
  expect(plan(bottle).cost).toBeNull();
  const sold = plan(bottle, { ...net, price: 24, feeShare: 0.1 }, priced);
  const hours = sold.minutes.value / 60;
  expect(sold.cost?.hourAtPrice?.value).toBeCloseTo((24 * 0.9 - (3.5 * yarn.grams.value) / 50) / hours, 9);
  expect(printed(sold)).toMatch(/at 24\.00 your hour brings \d+\.\d\d ± \d+\.\d\d/);
});

interface Offer {
  readonly base: BaseCandidate;
  readonly plan: Plan;
}

function offersOf(plans: readonly Plan[], aim: BaseAim): Offer[] {
  return plans.map((made) => ({
    plan: made,
    base: made.candidates.find(({ aims }) => aims.includes(aim)) as BaseCandidate,
  }));
}

/** ln of the rim over a flat disc's; the patted width is the mean of both, so the reach follows from it. */
function unflat({ gauge }: Plan, { stitchesAround, widthMm }: BaseCandidate): number {
  const rimRadiusMm = (stitchesAround * gauge.stitchWidthMm.value) / (2 * Math.PI);
  const reachMm = (widthMm.value / 2) ** 2 / rimRadiusMm;
  return Math.abs(Math.log(rimRadiusMm / reachMm));
}

/** Where increases sit, counted stitch by stitch, as shares of a turn. */
function increasesAt(steps: readonly Step[]): number[] {
  let place = 0;
  const at: number[] = [];
  for (const step of flatSteps(steps)) {
    if (step.do === 'turning-chain' && step.countsAs) place++;
    if (step.do === 'stitch' && step.into === 'same') at.push(place - 0.5);
    if (step.do === 'stitch' && step.into === 'stitch') place += step.times;
    if (step.do === 'increase') at.push(place++ + 0.5);
  }
  return at.map((each) => each / place);
}

function manyNets(count: number): Plan[] {
  const { uniform, pick } = seededRandom(1718);
  return Array.from({ length: count }, () => {
    const diameterMm = uniform(35, 160);
    const stitch = pick(['sc', 'hdc', 'dc'] as const);
    const perTen = uniform(10, 24);
    const container = containerFromTape({ diameterMm, heightMm: diameterMm * uniform(0.8, 3.5) });
    return plan(container, net, swatch(stitch, perTen, perTen / { sc: 0.9, hdc: 1.33, dc: 1.61 }[stitch]));
  });
}

function* manyPlans(count: number): Generator<Plan> {
  const { uniform, pick } = seededRandom(1914);
  for (let each = 0; each < count; each++) {
    const diameterMm = uniform(35, 160);
    const container = containerFromTape({
      diameterMm,
      heightMm: diameterMm * uniform(0.8, 3.5),
      topDiameterMm: diameterMm * pick([1, 1, 0.75, 0.85, 1.2]),
    });
    const stitch = pick(['sc', 'hdc', 'dc'] as const);
    const perTen = uniform(10, 24);
    const gauge = swatch(stitch, perTen, perTen / { sc: 0.9, hdc: 1.33, dc: 1.61 }[stitch]);
    const usual = defaultChoices(pick(['net', 'net', 'sleeve'] as const));
    const result = planCarrier(container, gauge, {
      ...usual,
      strap: { ...usual.strap, style: pick(['by-load', 'cross-body', 'shoulder', 'wrist', 'handles'] as const) },
      mesh: { ...usual.mesh, kind: pick(['post', 'loop'] as const) },
    });
    if (result.outcome === 'planned') yield result.plan;
  }
}

function swatch(stitch: 'sc' | 'hdc' | 'dc', stitches: number, perTen: number): Gauge {
  return gaugeFromSwatch({ stitch, stitches, widthMm: 100, rounds: perTen, heightMm: 100 });
}

function withStrap(style: Choices['strap']['style']): Choices {
  return { ...net, strap: { ...net.strap, style } };
}

function fewestOfWall({ parts }: Plan): number {
  return Math.min(...(parts.find(({ name }) => name === 'wall')?.rounds ?? []).map(({ stitches }) => stitches));
}

function codes({ warnings }: Plan): string[] {
  return warnings.map(({ code }) => code);
}

function rounds({ parts }: Plan): readonly Round[] {
  return parts.flatMap((part) => part.rounds);
}

function printed(made: Plan): string {
  return blocksAsText(patternBlocks(patternOf('', made, en, voiceOf(IN_ENGLISH)), en), Number.POSITIVE_INFINITY);
}

function plan(container: Container, chosen: Choices = net, gauge: Gauge = defaultGauge()): Plan {
  const result = planCarrier(container, gauge, chosen);
  if (result.outcome === 'refused') throw new Error(result.reason.code);
  return result.plan;
}

function profiled(points: readonly (readonly [number, number])[]): Container {
  const widestMm = 2 * Math.max(...points.map(([, radiusMm]) => radiusMm));
  return {
    ...containerFromTape({ diameterMm: 2 * points[0][1], heightMm: points[points.length - 1][0] }),
    maxDiameterMm: { value: widestMm, sd: 0.5 },
    profile: points.map(([zMm, radiusMm]) => ({ zMm, radiusMm, sdMm: 0.3 })),
  };
}
