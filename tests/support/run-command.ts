import { answerCall, printable, type Terminal } from '../../web/commands/command-line.ts';

/** Runs a command in this process, as a terminal would: what it printed, and its exit code. */
export async function runCommand(
  name: string,
  main: (terminal: Terminal) => Promise<number>,
  args: readonly string[],
  input = '',
): Promise<{ readonly code: number; readonly out: string; readonly err: string }> {
  const printed = { out: '', err: '' };
  const code = await answerCall(name, main, {
    args,
    out: (text) => {
      printed.out += printable(text);
    },
    err: (text) => {
      printed.err += printable(text);
    },
    input: async () => input,
  });
  return { code, ...printed };
}
