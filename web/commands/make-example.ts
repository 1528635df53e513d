import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { projectPoint } from '../../vision/geometry/camera-ray.ts';
import type { ImagePoint } from '../../vision/geometry/frames.ts';
import type { Measurement, PhotoView } from '../../vision/measurement.ts';
import { fitFile } from './measure-file.ts';

/** `npm run example`: measures the sample that greets a newcomer and writes what is drawn over it, carrier and all. */
const NAME = 'tumbler-standing-on-dark-desk';
/** The part of the photo that is shown, in its pixels, and how wide it is drawn. */
const CROP = { left: 0, top: 300, width: 1512, height: 1380 };
const DRAWN_WIDTH = 1000;
const UNITS_PER_PX = DRAWN_WIDTH / CROP.width;

/** A net as it is worked: plain rounds up from the base, loops, a band. Parts of the height up to the shoulder. */
const WALL_TO = 0.14;
const NET_TO = 0.68;
const BAND_TO = 0.78;
const LOOPS_AROUND = 16;
const LOOPS_UP = 4;

const root = fileURLToPath(new URL('../../', import.meta.url));
const { measured } = await fitFile({ path: `${root}sample-images/${NAME}.jpg`, options: {} });
if (measured.result.outcome !== 'measured') throw new Error('The example was not measured.');
const { measurement } = measured.result;
if (!measurement.view) throw new Error('The example has no view.');
const { maxDiameterMm, heightMm, card, outlinePx } = measurement;
const example = {
  name: NAME,
  crop: CROP,
  width: DRAWN_WIDTH,
  height: Math.round(CROP.height * UNITS_PER_PX),
  widest: { value: maxDiameterMm.value, sd: maxDiameterMm.sd },
  high: { value: heightMm.value, sd: heightMm.sd },
  outline: path([...outlinePx, outlinePx[0]]),
  card: path([...card.cornersPx, card.cornersPx[0]]),
  ...carrierOn(measurement, measurement.view),
};
writeFileSync(`${root}web/photo/example.json`, `${JSON.stringify(example, null, 2)}\n`);

function carrierOn({ profile, features, heightMm: height }: Measurement, view: PhotoView) {
  const topMm = features.shoulderZMm?.value ?? height.value;
  const radiusMm = (zMm: number) => {
    const above = Math.max(
      1,
      profile.findIndex((point) => point.zMm >= zMm),
    );
    const [low, high] = [profile[above - 1], profile[above]];
    return low.radiusMm + ((zMm - low.zMm) / (high.zMm - low.zMm)) * (high.radiusMm - low.radiusMm);
  };
  const at = (share: number, turn: number) => {
    const zMm = share * topMm;
    const angle = turn * 2 * Math.PI;
    return seen(view, [radiusMm(zMm) * Math.cos(angle), radiusMm(zMm) * Math.sin(angle), zMm]);
  };
  const ring = (share: number) => strokes(steps(48, (part) => at(share, part)));
  const rings = (from: number, to: number, count: number) =>
    steps(count, (part) => ring(from + part * (to - from))).join('');
  const strand = (k: number, way: 1 | -1) =>
    strokes(
      steps(24, (part) => at(WALL_TO + part * (NET_TO - WALL_TO), (k + (way * part * LOOPS_UP) / 2) / LOOPS_AROUND)),
    );
  const strands = Array.from({ length: LOOPS_AROUND }, (_, k) => strand(k, 1) + strand(k, -1)).join('');
  const [left, right] = edges(steps(120, (part) => at(BAND_TO, part)));
  const middle = drawn([(left[0] + right[0]) / 2, CROP.top - 40]);
  const [from, to] = [drawn(left), drawn(right)];
  return {
    wall: rings(0.02, WALL_TO, 4),
    net: strands,
    band: rings(NET_TO, BAND_TO, 3),
    strap: `M${from}C${from[0] - 12} ${from[1] - 120} ${middle[0] - 70} 60 ${middle[0] - 30} -20M${to}C${to[0] + 12} ${to[1] - 120} ${middle[0] + 70} 60 ${middle[0] + 30} -20`,
  };
}

interface Seen {
  readonly px: ImagePoint;
  /** The camera sees this side of the container. */
  readonly front: boolean;
}

function seen({ camera, cameraFromContainer }: PhotoView, point: readonly [number, number, number]): Seen {
  const { rotation, translationMm } = cameraFromContainer;
  const turned = (v: readonly number[]) =>
    [0, 3, 6].map((row) => rotation[row] * v[0] + rotation[row + 1] * v[1] + rotation[row + 2] * v[2]);
  const outward = turned([point[0], point[1], 0]);
  const [x, y, z] = turned(point).map((value, k) => value + translationMm[k]);
  return {
    px: projectPoint(camera, x, y, z) as unknown as ImagePoint,
    front: outward[0] * x + outward[1] * y + outward[2] * z < 0,
  };
}

function strokes(points: readonly Seen[]): string {
  let text = '';
  let down = false;
  for (const { px, front } of points) {
    if (front) text += `${down ? 'L' : 'M'}${drawn(px)}`;
    down = front;
  }
  return text;
}

function edges(points: readonly Seen[]): [ImagePoint, ImagePoint] {
  const front = points.filter((point) => point.front).map(({ px }) => px);
  const byX = [...front].sort((a, b) => a[0] - b[0]);
  return [byX[0], byX[byX.length - 1]];
}

function path(points: readonly ImagePoint[]): string {
  return `M${points.map(drawn).join('L')}Z`;
}

function drawn(px: readonly [number, number] | ImagePoint): [number, number] {
  return [Math.round((px[0] - CROP.left) * UNITS_PER_PX), Math.round((px[1] - CROP.top) * UNITS_PER_PX)];
}

function steps<T>(count: number, at: (part: number) => T): T[] {
  return Array.from({ length: count + 1 }, (_, k) => at(k / count));
}
