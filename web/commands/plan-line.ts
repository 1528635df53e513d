import type { Plan, PlanResult, Round } from '../../sizing/plan.ts';
import { noteText } from '../plan/words/note-words.ts';
import { fitWords, sewingWords } from '../plan/words/pattern.ts';
import { allowedText, refusalText } from '../plan/words/refusal-words.ts';
import type { Voice } from '../plan/words/voice.ts';
import type { Text } from '../text/text.ts';

/**
 * The line `plan --json` prints: the plan as data, with its sentences beside their codes. Every field that carried a
 * sentence before still does; the codes have names of their own. Described by plan-line.schema.json.
 */
export function planLine(result: PlanResult, text: Text, voice: Voice): object {
  if (result.outcome === 'refused') {
    const { reason } = result;
    const allowed = reason.code === 'out-of-range' ? allowedText(reason.allowed, text.planRefusals, voice) : null;
    const limits = reason.code === 'out-of-range' ? { limits: reason.allowed } : {};
    return {
      outcome: 'refused',
      reason: { ...reason, ...limits, allowed, message: refusalText(reason, text.planRefusals, voice) },
    };
  }
  return { outcome: 'planned', plan: planData(result.plan, text, voice) };
}

function planData(plan: Plan, text: Text, voice: Voice): object {
  const say = (note: Parameters<typeof noteText>[0]) => noteText(note, text.planNotes, voice);
  const round = (each: Round) => ({
    ...each,
    note: each.notes.length === 0 ? null : each.notes.map(say).join(' '),
  });
  const { headline, more, figures } = fitWords(plan, text, voice);
  return {
    ...plan,
    candidates: plan.candidates.map((base) => ({
      ...base,
      reasons: base.reasons.map(say),
      reasonCodes: base.reasons,
    })),
    parts: plan.parts.map((part) => ({
      ...part,
      rounds: part.rounds.map(round),
      notes: part.notes.map(say),
      noteCodes: part.notes,
    })),
    coverReason: plan.coverReason && say(plan.coverReason),
    coverReasonCode: plan.coverReason,
    strap: plan.strap && { ...plan.strap, sewOn: sewingWords(plan.strap, text, voice) },
    fit: { ...plan.fit, message: [headline, more, ...figures].filter(Boolean).join(' ') },
    checkpoints: plan.checkpoints.map((checkpoint) => ({
      ...checkpoint,
      ifLess: say(checkpoint.ifLess),
      ifMore: say(checkpoint.ifMore),
      ifLessCode: checkpoint.ifLess,
      ifMoreCode: checkpoint.ifMore,
    })),
    warnings: plan.warnings.map(say),
    warningCodes: plan.warnings,
    cautions: plan.cautions.map(say),
    cautionCodes: plan.cautions,
  };
}
