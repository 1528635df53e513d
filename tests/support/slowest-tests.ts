import type { Reporter, TestModule } from 'vitest/node';

const SHOWN = 10;

/** Prints the ten slowest tests at the end of a run, and the ten files that take longest to get ready. */
export default class SlowestTests implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const tests = modules.flatMap((module) =>
      [...module.children.allTests()].map((test) => ({
        name: `${module.relativeModuleId} > ${test.fullName}`,
        ms: test.diagnostic()?.duration ?? 0,
      })),
    );
    const files = modules.map((module) => {
      const { collectDuration, setupDuration, prepareDuration } = module.diagnostic();
      return { name: module.relativeModuleId, ms: collectDuration + setupDuration + prepareDuration };
    });
    process.stdout.write(`\nThe slowest tests\n${table(tests)}\nThe files slowest to load\n${table(files)}\n`);
  }
}

function table(rows: readonly { readonly name: string; readonly ms: number }[]): string {
  const slowest = [...rows].sort((a, b) => b.ms - a.ms).slice(0, SHOWN);
  return slowest.map(({ name, ms }) => `${(ms / 1000).toFixed(1).padStart(7)} s  ${name}\n`).join('');
}
