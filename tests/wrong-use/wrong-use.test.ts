import { expect, it } from 'vitest';
import { WRONG_PICTURES, whatBecomesOf } from './wrong-pictures.ts';

// All of them: wrong-use.long.test.ts
it.each(['the card taken away', 'a photo cropped to another shape'])(
  '%s: measured rightly, or refused or flagged for the right reason',
  async (picture) => {
    const [wrong] = WRONG_PICTURES.filter((each) => each.picture === picture);
    const { outcome, says, isRight } = await whatBecomesOf(wrong);
    expect(isRight, `${outcome} ${says}`).toBe(true);
  },
);
