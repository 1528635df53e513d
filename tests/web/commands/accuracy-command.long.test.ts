import { describe, expect, it } from 'vitest';
import { accuracy } from '../../../web/commands/accuracy.ts';
import { runCommand } from '../../support/run-command.ts';

describe('accuracy', () => {
  it('scores a folder against its truth files, from given outline and corners, in the documented shape', async () => {
    const { code, out } = await runCommand('accuracy', accuracy, ['sample-images', '--outline', 'truth', '--json']);
    expect(code).toBe(0);
    const report = JSON.parse(out);
    const score = {
      n: report.photos,
      medianAbsPct: expect.any(Number),
      p90AbsPct: expect.any(Number),
      worstAbsPct: expect.any(Number),
      medianAbsMm: expect.any(Number),
      coverage95: expect.any(Number),
    };
    expect(report).toMatchObject({
      measured: report.photos,
      refused: 0,
      widestDiameter: score,
      height: score,
      cardCorners: { found: report.photos },
      arrangementRight: 1,
    });
    expect(Object.keys(report.byArrangement).sort()).toEqual(['card-leaning', 'card-on-front', 'lying', 'standing']);
  });
});
