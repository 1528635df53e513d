import { describe, expect, it } from 'vitest';
import { JointModel } from '../../../vision/container/joint-model.ts';
import { CARD_SIZE } from '../../../vision/container/parameters.ts';
import { sizeEstimate } from '../../../vision/container/size-estimate.ts';
import { toMeasurement } from '../../../vision/container/to-measurement.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { fitted, photosOf, SIZES, together } from './photos-of-one-container.ts';

describe('fitSameContainer', () => {
  it('gains √2 from a second photo that is as good, down to what the size of the one card leaves open', () => {
    const { photos } = photosOf(2, ['standing']);
    const { fit } = together([photos[0], photos[0]]);
    const { value, sd } = sizeEstimate(fit, 'heightMm');
    const alone = sizeEstimate(photos[0].fit, 'heightMm').sd;
    const byCard = ID1_CARD.relativeSd * value;
    expect(sd).toBeCloseTo(Math.sqrt((alone ** 2 - byCard ** 2) / 2 + byCard ** 2), 1);
    expect(sd).toBeGreaterThan(byCard);
  });

  it('is no blind average: a photo whose outline is doubtful counts for less', () => {
    const { scenes, photos } = photosOf(3, ['standing', 'lying']);
    const doubtful = fitted(scenes[1], 0.107);
    const [sure, doubted] = [together(photos), together([photos[0], doubtful])];
    for (const size of SIZES) {
      const own = sizeEstimate(photos[0].fit, size).value;
      expect(Math.abs(sizeEstimate(doubted.fit, size).value - own)).toBeLessThanOrEqual(
        Math.abs(sizeEstimate(sure.fit, size).value - own),
      );
    }
  });

  it('turns a container round that was taken upside down in one photo', () => {
    const { scenes, photos } = photosOf(4, ['lying', 'standing']);
    const { baseDiameterMm } = scenes[0];
    expect(sizeEstimate(photos[0].fit, 'baseDiameterMm').low95).toBeGreaterThan(baseDiameterMm + 5);
    const base = sizeEstimate(together(photos).fit, 'baseDiameterMm');
    expect(Math.abs(base.value - baseDiameterMm)).toBeLessThan(3 * base.sd);
    expect(base.sd).toBeLessThan(sizeEstimate(photos[1].fit, 'baseDiameterMm').sd);
  });

  it('names the photo of another container among three and leaves it out', () => {
    const { photos } = photosOf(2, ['standing', 'lying']);
    const stranger = photosOf(8, ['standing']).photos[0];
    const { agreement, fit } = together([photos[0], stranger, photos[1]]);
    expect(agreement.leftOut).toEqual([1]);
    const pair = together(photos).fit;
    expect(sizeEstimate(fit, 'heightMm').value).toBeCloseTo(sizeEstimate(pair, 'heightMm').value, 6);
  });

  it('cannot say which of two is wrong, so both are kept and the error bars grow', () => {
    const [one, other] = [2, 8].map((seed) => photosOf(seed, ['standing']).photos[0]);
    const { agreement, fit } = together([one, other]);
    expect(agreement.leftOut).toEqual([]);
    expect(agreement.probability).toBeLessThan(0.001);
    for (const size of SIZES) {
      const apart = Math.abs(sizeEstimate(one.fit, size).value - sizeEstimate(other.fit, size).value);
      expect(sizeEstimate(fit, size).sd).toBeGreaterThan(apart / 4);
    }
  });

  it('answers with a whole measurement: profile, features and an outline in the photo shown', () => {
    const { photos } = photosOf(6, ['standing', 'lying']);
    const measurement = toMeasurement(together(photos).fit);
    expect(measurement.baseDiameterMm).not.toBeNull();
    expect(measurement.outlinePx.length).toBeGreaterThan(50);
    expect(measurement.profile.every(({ sdMm }) => Number.isFinite(sdMm))).toBe(true);
  });
});

describe('JointModel', () => {
  it('has the derivatives that central differences give', () => {
    const { photos } = photosOf(6, ['standing', 'standing']);
    const { model: first, solution } = photos[0].fit;
    const model = new JointModel(
      [0, 1].map(() => ({ model: first, parameters: solution.parameters, findingSd: 0.01 })),
    );
    const parameters = model.start(0);
    const rows = model.residualCount;
    const jacobian = new Float64Array(rows * model.parameterCount);
    model.evaluate(parameters, new Float64Array(rows), jacobian);
    const [up, down] = [new Float64Array(rows), new Float64Array(rows)];
    for (let column = 0; column < model.parameterCount; column += 7) {
      const step = 1e-6;
      const moved = Float64Array.from(parameters);
      moved[column] += step;
      model.evaluate(moved, up, null);
      moved[column] -= 2 * step;
      model.evaluate(moved, down, null);
      for (let row = 0; row < rows; row += 5) {
        const slope = (up[row] - down[row]) / (2 * step);
        expect(Math.abs(jacobian[row * model.parameterCount + column] - slope)).toBeLessThan(
          1e-2 + 2e-3 * Math.abs(slope),
        );
      }
    }
  });

  it('gives every photo its own card size when the references differ', () => {
    const { photos } = photosOf(6, ['standing', 'standing']);
    const joint = (name: string) =>
      new JointModel(
        photos.map(({ fit: { model, solution } }, k) => ({
          model:
            k === 0
              ? model
              : Object.assign(Object.create(model), {
                  seen: { ...model.seen, reference: { ...model.seen.reference, name } },
                }),
          parameters: solution.parameters,
          findingSd: 0,
        })),
      );
    const columns = (model: JointModel) => [0, 1].map((k) => model.columnsOf(k)[CARD_SIZE]);
    const [same, different] = [columns(joint(ID1_CARD.name)), columns(joint('another'))];
    expect(same[0]).toBe(same[1]);
    expect(different[0]).not.toBe(different[1]);
  });
});
