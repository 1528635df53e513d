import { describeDegenerateScenes } from './degenerate-scenes.ts';

describeDegenerateScenes(12);
