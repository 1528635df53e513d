import { describe, expect, it } from 'vitest';
import { chooseCard } from '../../../vision/reference/choose-card.ts';
import type { CardCandidate } from '../../../vision/reference/find-card.ts';

const card = {} as CardCandidate['card'];
const FAINT: CardCandidate = {
  card,
  total: -1,
  lead: 1,
  offHint: Number.POSITIVE_INFINITY,
  evidence: {
    straight: [0.5, 0.6, 0.5, 0.6],
    contrast: [20, 20, 20, 20],
    corners: [0.2, 0.4, 0.2, 0.1],
    glare: [0, 0, 0, 0],
    hiddenCorner: null,
    runOn: 0,
    shapeCost: 1,

    widthPx: 280,
  },
};
const withEvidence = (evidence: Partial<CardCandidate['evidence']>): CardCandidate => ({
  ...FAINT,
  offHint: 0.03,
  evidence: { ...FAINT.evidence, ...evidence },
});

describe('chooseCard', () => {
  it('takes a faint rectangle for the card where the network sees one, and not elsewhere', () => {
    expect(chooseCard([{ ...FAINT, offHint: 0.03 }])).toEqual({ card });
    expect(chooseCard([{ ...FAINT, offHint: 0.1 }])).toEqual({ problem: 'no-card' });
    expect(chooseCard([FAINT])).toEqual({ problem: 'no-card' });
  });

  it('wants the proportions all the same: other cards lie where the network sees one, too', () => {
    expect(chooseCard([withEvidence({ shapeCost: 5 })])).toEqual({ problem: 'no-card' });
  });

  it('does not choose between two that are as good', () => {
    expect(chooseCard([{ ...FAINT, offHint: 0.03, lead: -0.4 }])).toEqual({ problem: 'no-card' });
  });

  it('says what keeps a card from being measured with', () => {
    expect(chooseCard([withEvidence({ widthPx: 80 })])).toEqual({ problem: 'card-too-small' });
    const lost = withEvidence({ straight: [0.2, 0.9, 0.9, 0.9], glare: [0.6, 0, 0, 0], corners: [0, 0, 0.5, 0.5] });
    expect(chooseCard([{ ...lost, offHint: 0.2 }])).toEqual({ problem: 'glare-on-card-edge' });
  });
});
