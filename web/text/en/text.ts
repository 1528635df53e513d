import { check } from './check.ts';
import { guide } from './guide.ts';
import { keep } from './keep.ts';
import { photo } from './photo.ts';
import { problems } from './problems.ts';
import { shell } from './shell.ts';

export const en = { shell, photo, guide, check, keep, problems };
