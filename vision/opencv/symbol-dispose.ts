/** Node 20 and current browsers may lack these symbols; `using` needs them. Import before any module that uses scopes. */
const symbols = Symbol as unknown as Record<string, symbol>;
symbols.dispose ??= Symbol.for('Symbol.dispose');
symbols.asyncDispose ??= Symbol.for('Symbol.asyncDispose');
