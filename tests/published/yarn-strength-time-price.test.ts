import { describe, expect, it } from 'vitest';
import { meridianOf } from '../../sizing/body/meridian.ts';
import { defaultChoices } from '../../sizing/choices.ts';
import { containerFromTape } from '../../sizing/container.ts';
import { costOf } from '../../sizing/forecast/cost.ts';
import { loadOf, OVERHAND_KNOT_EFFICIENCY, strandBreakingForceN } from '../../sizing/forecast/load.ts';
import { tallySteps } from '../../sizing/forecast/tally.ts';
import { partMinutes } from '../../sizing/forecast/work-time.ts';
import { defaultGauge } from '../../sizing/gauge.ts';

describe('strength of a strand (ring-spun cotton 17 cN/tex: handbook table; overhand knot 45 %: Plymouth Cordage 1946)', () => {
  it('of 250 m per 100 g is 68 N straight and 30.6 N knotted', () => {
    expect(strandBreakingForceN(250)).toBeCloseTo(68, 6);
    expect(strandBreakingForceN(250) * OVERHAND_KNOT_EFFICIENCY).toBeCloseTo(30.6, 6);
  });

  it('one knotted strand holds a full wine bottle of 1240 g (retail record) 2.5 times over', () => {
    const container = { ...containerFromTape({ diameterMm: 70, heightMm: 300 }), emptyMassG: 1240 };
    const gauge = { ...defaultGauge(), yarn: { ...defaultGauge().yarn, metresPer100g: 250, assumed: false } };
    const load = loadOf(container, meridianOf(container), { value: 0, sd: 0 }, gauge);
    expect(load.staticForceN).toBeCloseTo(12.2, 1);
    expect(load.marginOfOneKnottedStrand).toBeCloseTo(2.5, 1);
  });

  it('is not claimed for fibres without a sourced figure', () => {
    const container = containerFromTape({ diameterMm: 70, heightMm: 200 });
    const gauge = { ...defaultGauge(), yarn: { ...defaultGauge().yarn, fibre: 'wool' as const } };
    const load = loadOf(container, meridianOf(container), { value: 700, sd: 5 }, gauge);
    expect(load.marginOfOneKnottedStrand).toBeNull();
  });
});

describe('time (2.8 s a stitch: timed swatches, published; 1.2 s a chain: common practice, no source)', () => {
  it('750 stitches and 576 chains take 46.5 minutes', () => {
    const steps = [
      { do: 'stitch', stitch: 'dc', into: 'stitch', times: 750 },
      { do: 'chain', chains: 576 },
    ] as const;
    const nothing = partMinutes('mesh', tallySteps([]), defaultGauge()).value;
    expect(partMinutes('mesh', tallySteps(steps), defaultGauge()).value - nothing).toBeCloseTo(46.5, 1);
  });
});

describe('price = hours x rate + material (published worked example)', () => {
  it('40 hours at 10 for 100 pieces with 1 of material each cost 5 a piece', () => {
    const gauge = { ...defaultGauge(), yarn: { ...defaultGauge().yarn, pricePerBall: 1 } };
    const yarn = {
      metres: { value: 10, sd: 1 },
      grams: { value: 50, sd: 1 },
      balls: 1,
      probabilityEnough: 1,
      oneBallLess: null,
      calibratedBySwatch: false,
      byColour: [],
    };
    const minutes = { value: (40 * 60) / 100, sd: 0 };
    const cost = costOf({ ...defaultChoices(), hourlyRate: 10 }, gauge, yarn, minutes);
    expect(cost?.total?.value).toBeCloseTo(5, 9);
    // The same example read backwards: a piece sold at 5 brings 10 an hour; fees of a fifth take 1 off the 5.
    const sold = costOf({ ...defaultChoices(), price: 5 }, gauge, yarn, minutes);
    expect(sold?.hourAtPrice?.value).toBeCloseTo(10, 9);
    const withFees = costOf({ ...defaultChoices(), price: 5, feeShare: 0.2 }, gauge, yarn, minutes);
    expect(withFees?.hourAtPrice?.value).toBeCloseTo((5 - 1 - 1) / 0.4, 9);
  });
});
