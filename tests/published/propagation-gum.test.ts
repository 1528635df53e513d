import { describe, expect, it } from 'vitest';
import { gradientOf, propagatedSd, quadraticForm } from '../../vision/container/container-sizes.ts';
import { estimate } from '../../vision/estimate.ts';

/** Covariance matrix (row-major) from standard uncertainties and correlations r[i][j], i < j. */
function covarianceOf(sds: readonly number[], correlation: (i: number, j: number) => number): Float64Array {
  const n = sds.length;
  return Float64Array.from({ length: n * n }, (_, k) => {
    const i = Math.floor(k / n);
    const j = k % n;
    return (i === j ? 1 : correlation(Math.min(i, j), Math.max(i, j))) * sds[i] * sds[j];
  });
}

describe('JCGM 100 (GUM), H.1 End-gauge calibration', () => {
  // ls (nm above 50 mm), d (nm), δα, θ, α, δθ
  const inputs = Float64Array.from([623, 215, 0, -0.1, 1.15e-5, 0]);
  const sds = [25, 9.7, 0.58e-6, 0.41, 1.2e-6, 0.029];
  const covariance = covarianceOf(sds, () => 0);
  const length = (p: Float64Array) => p[0] + p[1] - (50e6 + p[0]) * (p[2] * p[3] + p[4] * p[5]);

  it('gives 50.000 838 mm with a combined standard uncertainty of 32 nm', () => {
    expect(length(inputs)).toBeCloseTo(838, 6);
    const sd = propagatedSd(length, inputs, covariance);
    expect(sd).toBeCloseTo(31.71, 1);
    expect(Math.round(sd)).toBe(32);
  });

  it('gives the published components 25, 9.7, 2.9 and 16.7 nm', () => {
    const gradient = gradientOf(length, inputs, covariance);
    const parts = sds.map((sd, i) => Math.abs(gradient[i]) * sd);
    expect(parts[0]).toBeCloseTo(25, 1);
    expect(parts[1]).toBeCloseTo(9.7, 1);
    expect(parts[2]).toBeCloseTo(2.9, 1);
    expect(parts[5]).toBeCloseTo(16.7, 0);
  });
});

describe('JCGM 100 (GUM), H.2 Simultaneous resistance and reactance measurement', () => {
  // table H.3: V (V), I (A), φ (rad) and their correlations
  const inputs = Float64Array.from([4.999, 19.661e-3, 1.04446]);
  const correlations: Record<string, number> = { '01': -0.36, '02': 0.86, '12': -0.65 };
  const covariance = covarianceOf([0.0032, 0.0095e-3, 0.00075], (i, j) => correlations[`${i}${j}`]);
  const outputs = {
    resistance: ([v, i, phi]: Float64Array) => (v / i) * Math.cos(phi),
    reactance: ([v, i, phi]: Float64Array) => (v / i) * Math.sin(phi),
    impedance: ([v, i]: Float64Array) => v / i,
  };

  it('gives R = 127.732(71), X = 219.847(295), Z = 254.260(236) ohm (table H.4)', () => {
    const published = {
      resistance: [127.732, 0.071],
      reactance: [219.847, 0.295],
      impedance: [254.26, 0.236],
    } as const;
    for (const name of ['resistance', 'reactance', 'impedance'] as const) {
      expect(outputs[name](inputs)).toBeCloseTo(published[name][0], 2);
      // the published inputs are rounded to two digits, hence the last digit of the uncertainty
      expect(Math.abs(propagatedSd(outputs[name], inputs, covariance) - published[name][1])).toBeLessThan(0.0025);
    }
  });

  it('keeps the correlations between the outputs: r(R,X) = −0.588, r(R,Z) = −0.485, r(X,Z) = 0.993', () => {
    const gradients = {
      R: gradientOf(outputs.resistance, inputs, covariance),
      X: gradientOf(outputs.reactance, inputs, covariance),
      Z: gradientOf(outputs.impedance, inputs, covariance),
    };
    const r = (a: 'R' | 'X' | 'Z', b: 'R' | 'X' | 'Z') =>
      quadraticForm(gradients[a], covariance, gradients[b]) /
      Math.sqrt(
        quadraticForm(gradients[a], covariance, gradients[a]) * quadraticForm(gradients[b], covariance, gradients[b]),
      );
    expect(Math.abs(r('R', 'X') - -0.588)).toBeLessThan(0.02);
    expect(Math.abs(r('R', 'Z') - -0.485)).toBeLessThan(0.02);
    expect(Math.abs(r('X', 'Z') - 0.993)).toBeLessThan(0.002);
  });
});

describe('JCGM 101 (GUM Supplement 1), 9.2 Additive model', () => {
  const sum = (p: Float64Array) => p.reduce((a, b) => a + b, 0);
  const zeros = Float64Array.from([0, 0, 0, 0]);

  it('9.2.3: four rectangular inputs of sd 1 have u = 2.0 and the interval ±3.92 of the GUM uncertainty framework', () => {
    const { sd, high95 } = estimate(
      0,
      propagatedSd(
        sum,
        zeros,
        covarianceOf([1, 1, 1, 1], () => 0),
      ),
    );
    expect(sd).toBeCloseTo(2, 9);
    expect(high95).toBeCloseTo(3.92, 2);
  });

  it('9.2.4: one input ten times as large has u = 10.1 and ±19.9, wider than the true ±17.0: a known limit', () => {
    const { sd, high95 } = estimate(
      0,
      propagatedSd(
        sum,
        zeros,
        covarianceOf([1, 1, 1, 10], () => 0),
      ),
    );
    expect(sd).toBeCloseTo(10.1, 1);
    expect(high95).toBeCloseTo(19.9, 1);
    expect(high95).toBeGreaterThan(17.0);
  });
});
