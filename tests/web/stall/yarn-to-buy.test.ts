import { expect, test } from 'vitest';
import { defaultChoices } from '../../../sizing/choices.ts';
import { containerFromTape } from '../../../sizing/container.ts';
import { gaugeFromYarnCategory } from '../../../sizing/gauge.ts';
import { planCarrier } from '../../../sizing/plan-carrier.ts';
import { yarnCsv } from '../../../web/stall/day-sheet.ts';
import { finishedCarrier } from '../../../web/stall/finished-carrier.ts';
import { yarnToBuy } from '../../../web/stall/yarn-to-buy.ts';

const gauge = gaugeFromYarnCategory(3);
const choices = defaultChoices('net');
const container = containerFromTape({ diameterMm: 73, heightMm: 210 });
const planned = planCarrier(container, gauge, choices);
if (planned.outcome !== 'planned') throw new Error('no plan');
const { plan } = planned;
const sold = (id: string, colour: string) => ({
  id,
  label: id,
  carrier: finishedCarrier(plan, { colour, price: 18 }),
  soldAt: 1,
});

test('yarn is bought by colour: what the plans of all pieces take together, enough nineteen times in twenty', () => {
  const day = { sold: [sold('a', '#111111'), sold('b', '#222222'), sold('c', '#222222')], missing: [] };
  const [two, one] = yarnToBuy(day, gauge, choices, '#333333');
  const { value, sd } = plan.yarn.grams;
  expect(one).toMatchObject({ colour: '#111111', pieces: 1 });
  expect(one.grams.value).toBeCloseTo(value, 6);
  expect(two).toMatchObject({ colour: '#222222', pieces: 2 });
  expect(two.grams.value).toBeCloseTo(2 * value, 6);
  expect(two.grams.sd).toBeCloseTo(2 * sd, 6);
  // 1.645 standard deviations: one-sided 95 % of a normal distribution.
  expect(two.balls).toBe(Math.ceil((2 * value + 1.645 * 2 * sd) / gauge.yarn.ballGrams));
});

test('what was asked for and not there is made in the usual colour', () => {
  const day = { sold: [], missing: [{ at: 1, container }] };
  expect(yarnToBuy(day, gauge, choices, '#333333')).toMatchObject([{ colour: '#333333', pieces: 1 }]);
});

test('the table has one row a colour', () => {
  const yarn = yarnToBuy({ sold: [sold('a', '#111111')], missing: [] }, gauge, choices, '#333333');
  expect(yarnCsv(yarn, ['Yarn', 'Pieces', 'Grams', 'Balls'], () => 'tar')).toBe(
    `\r\n"Yarn","Pieces","Grams","Balls"\r\n"tar","1","${Math.round(yarn[0].grams.value)}","${yarn[0].balls}"\r\n`,
  );
});
