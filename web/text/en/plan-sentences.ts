/**
 * Sentences of the sizing engine in other languages, by their English wording with `#` for what varies. The engine
 * speaks English, so here there is nothing to say.
 */
export const planSentences: Readonly<Record<string, string>> = {};
