import type { Text } from '../text.ts';
import { check } from './check.ts';
import { guide } from './guide.ts';
import { keep } from './keep.ts';
import { photo } from './photo.ts';
import { problems } from './problems.ts';
import { shell } from './shell.ts';

export const de: Text = { shell, photo, guide, check, keep, problems };
