import { describe, expect, it } from 'vitest';
import { MISSES, WRONG_PICTURES, whatBecomesOf } from './wrong-pictures.ts';

describe('pictures that nobody should take', () => {
  const rows: string[] = [];

  it.each(WRONG_PICTURES)('$picture: measured rightly, or refused or flagged for the right reason', async (wrong) => {
    const { outcome, says, isRight } = await whatBecomesOf(wrong);
    const isMiss = MISSES.includes(wrong.picture);
    rows.push(`| ${wrong.picture} | ${outcome} | ${says || '–'} | ${isRight ? 'yes' : 'no: known limit'} |`);
    expect(isRight, `${outcome} ${says}`).toBe(!isMiss);
  });

  it('the table of outcomes is the one shown to developers', async () => {
    const head = '| picture | outcome | says | right |\n| --- | --- | --- | --- |\n';
    await expect(`${head}${rows.join('\n')}\n`).toMatchFileSnapshot('outcomes.md');
  });
});
