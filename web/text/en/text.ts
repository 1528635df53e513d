import { check } from './check.ts';
import { gauge } from './gauge.ts';
import { guide } from './guide.ts';
import { keep } from './keep.ts';
import { orders } from './orders.ts';
import { photo } from './photo.ts';
import { picture } from './picture.ts';
import { plan } from './plan.ts';
import { planNotes } from './plan-notes.ts';
import { planRefusals } from './plan-refusals.ts';
import { problems } from './problems.ts';
import { reference } from './reference.ts';
import { ruler } from './ruler.ts';
import { shell } from './shell.ts';
import { sizes } from './sizes.ts';
import { stall } from './stall.ts';
import { work } from './work.ts';

export const en = {
  shell,
  photo,
  guide,
  check,
  keep,
  problems,
  sizes,
  gauge,
  picture,
  plan,
  planNotes,
  planRefusals,
  stall,
  orders,
  reference,
  ruler,
  work,
};
