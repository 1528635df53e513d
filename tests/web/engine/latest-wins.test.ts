import { expect, test } from 'vitest';
import { latestWins } from '../../../web/engine/latest-wins.ts';

test('while one job runs, only the latest of those waiting is run next', async () => {
  const started: number[] = [];
  const finish: (() => void)[] = [];
  const push = latestWins((input: number) => {
    started.push(input);
    return new Promise<void>((resolve) => finish.push(resolve));
  });
  for (const input of [1, 2, 3, 4]) push(input);
  expect(started).toEqual([1]);
  finish[0]();
  await Promise.resolve();
  await Promise.resolve();
  expect(started).toEqual([1, 4]);
  finish[1]();
  await Promise.resolve();
  await Promise.resolve();
  push(5);
  expect(started).toEqual([1, 4, 5]);
});
