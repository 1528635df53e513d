import { describeDegenerateScenes } from './degenerate-scenes.ts';

// Six times as many: degenerate-scenes.long.test.ts
describeDegenerateScenes(2);
