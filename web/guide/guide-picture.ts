import type { Text } from '../text/text.ts';
import { BUOY, CARD, INK, KELP, MIST, PAPER, ROPE, SOFT } from '../ui/palette.ts';
import { SCENE_HEIGHT, SCENE_WIDTH, SCENES, type SceneName, type Shape } from './scenes.ts';

const SKIN = '#e7d5a9';
const CARD_BLUE = '#9ab5c8';
const THREAD = '#d3ccba';

const PEN: Readonly<Record<Shape['look'], readonly [fill: string | null, stroke: string | null, width: number]>> = {
  ground: [CARD, THREAD, 2],
  bottle: ['#d5e8e2', INK, 2],
  cap: [ROPE, INK, 2],
  card: [CARD_BLUE, INK, 2],
  stripe: [INK, null, 0],
  sign: [CARD, null, 0],
  skin: [SKIN, null, 0],
  finger: [null, SKIN, 2],
  edge: [null, INK, 2],
  sleeve: [KELP, INK, 2],
  phone: [MIST, INK, 4],
  ink: [null, INK, 2],
  frame: [null, INK, 2],
  glare: [null, ROPE, 4],
  spot: [CARD, null, 0],
  cross: [null, BUOY, 6],
};

/** As wide as a phone's screen in its own pixels: read without zooming. */
const WIDTH = 1080;
const MARGIN = 64;
const GAP = 28;
const TITLE = '700 60px "Bricolage Grotesque", sans-serif';
const HEADING = '700 44px "Bricolage Grotesque", sans-serif';
const STRONG = '700 42px "Atkinson Hyperlegible Next", sans-serif';
const PLAIN = '42px "Atkinson Hyperlegible Next", sans-serif';
const SMALL = '34px "Atkinson Hyperlegible Next", sans-serif';

/** Who it comes from and where the photo goes; may be empty. */
export interface From {
  readonly name: string;
  readonly answerTo: string;
}

/**
 * The whole guide as one picture, in the customer's language.
 * @returns PNG 1080 px wide, as high as its words; null when the browser cannot draw it
 */
export async function guidePicture(words: Text['guide'], from: From): Promise<Blob | null> {
  await Promise.all([TITLE, PLAIN].map((font) => document.fonts.load(font).catch(() => [])));
  const canvas = document.createElement('canvas');
  const drawing = canvas.getContext('2d');
  if (!drawing) return null;
  // Drawn twice: once to know how high it is.
  const heightPx = drawn(drawing, words, from);
  canvas.width = WIDTH;
  canvas.height = heightPx;
  drawn(drawing, words, from);
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/png'));
}

/** @returns how high it is, px */
function drawn(drawing: CanvasRenderingContext2D, words: Text['guide'], { name, answerTo }: From): number {
  const inner = WIDTH - 2 * MARGIN;
  const half = (inner - GAP) / 2;
  const pen = penOn(drawing);
  drawing.fillStyle = PAPER;
  drawing.fillRect(0, 0, WIDTH, drawing.canvas.height);
  let y = MARGIN;
  y = pen.text(words.title, { x: MARGIN, y, width: inner, font: TITLE });
  if (name) y = pen.text(words.from(name), { x: MARGIN, y: y + 8, width: inner, font: STRONG, colour: KELP });
  y = pen.text(words.lead, { x: MARGIN, y: y + GAP, width: inner, font: PLAIN });
  pen.scene('standing', MARGIN, y + GAP, half);
  y = pen.scene('phone', MARGIN + half + GAP, y + GAP, half) + GAP;
  words.steps.forEach((step, k) => {
    pen.text(`${k + 1}`, { x: MARGIN, y, width: 60, font: HEADING, colour: KELP });
    y = pen.text(step, { x: MARGIN + 60, y, width: inner - 60, font: PLAIN }) + 18;
  });
  const row = (scenes: readonly (readonly [SceneName, string])[]) => {
    const width = (inner - (scenes.length - 1) * GAP) / scenes.length;
    const ends = scenes.map(([scene, says], k) => {
      const x = MARGIN + k * (width + GAP);
      return pen.text(says, { x, y: pen.scene(scene, x, y, width) + 12, width, font: SMALL });
    });
    y = Math.max(...ends) + GAP;
  };
  y = pen.text(words.alsoTitle, { x: MARGIN, y: y + GAP, width: inner, font: HEADING }) + 16;
  row([
    ['lying', words.ways.lying],
    ['front', words.ways.front],
  ]);
  y = pen.text(words.mistakesTitle, { x: MARGIN, y: y + 8, width: inner, font: HEADING }) + 16;
  row([
    ['cut', words.mistakes.cut],
    ['flat', words.mistakes.flat],
  ]);
  row([
    ['glare', words.mistakes.glare],
    ['hidden', words.mistakes.hidden],
  ]);
  y = pen.text(words.privacy, { x: MARGIN, y, width: inner, font: SMALL, colour: SOFT }) + GAP;
  y = pen.text(answerTo ? words.sendTo(answerTo) : words.sendBack, { x: MARGIN, y, width: inner, font: STRONG });
  y = pen.text(words.asFile, { x: MARGIN, y: y + 8, width: inner, font: PLAIN });
  return Math.ceil(y + MARGIN);
}

interface Place {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly font: string;
  readonly colour?: string;
}

function penOn(drawing: CanvasRenderingContext2D) {
  return {
    /** Words broken into lines; returns where they end. */
    text(text: string, { x, y, width, font, colour = INK }: Place): number {
      drawing.font = font;
      drawing.textBaseline = 'top';
      drawing.fillStyle = colour;
      const lineHeight = 1.28 * Number.parseFloat(/([\d.]+)px/.exec(font)?.[1] ?? '40');
      let at = y;
      for (const line of linesOf(text, (part) => drawing.measureText(part).width <= width)) {
        drawing.fillText(line, x, at, width);
        at += lineHeight;
      }
      return at;
    },
    /** Returns its lower edge. */
    scene(name: SceneName, x: number, y: number, width: number): number {
      const scale = width / SCENE_WIDTH;
      const height = SCENE_HEIGHT * scale;
      drawing.save();
      drawing.beginPath();
      drawing.roundRect(x, y, width, height, 22);
      drawing.clip();
      drawing.fillStyle = MIST;
      drawing.fillRect(x, y, width, height);
      drawing.translate(x, y);
      drawing.scale(scale, scale);
      drawing.lineJoin = 'round';
      drawing.lineCap = 'round';
      for (const shape of SCENES[name]) drawShape(drawing, shape);
      drawing.restore();
      return y + height;
    },
  };
}

function drawShape(drawing: CanvasRenderingContext2D, { look, d, width, at }: Shape): void {
  const [fill, stroke, usualWidth] = PEN[look];
  drawing.save();
  if (at) drawing.translate(at.x, at.y);
  if (at?.turned) drawing.rotate(Math.PI / 2);
  if (at?.scale) drawing.scale(at.scale, at.scale);
  drawing.setLineDash(look === 'frame' ? [3, 5] : []);
  const path = new Path2D(d);
  if (fill) {
    drawing.fillStyle = fill;
    drawing.fill(path);
  }
  if (stroke) {
    drawing.strokeStyle = stroke;
    drawing.lineWidth = width ?? usualWidth;
    drawing.stroke(path);
  }
  drawing.restore();
}

/** Words in lines that fit. A single word that does not gets a line of its own. */
export function linesOf(text: string, fits: (line: string) => boolean): string[] {
  const lines: string[] = [];
  for (const word of text.split(/\s+/)) {
    const last = lines.at(-1);
    if (last !== undefined && fits(`${last} ${word}`)) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
