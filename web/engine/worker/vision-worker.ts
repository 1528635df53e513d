import '../../../vision/opencv/symbol-dispose.ts';
import { expose } from 'comlink';
import type { ContainerFit } from '../../../vision/container/fit-container.ts';
import { measureWork } from '../../../vision/flat-piece/measure-work.ts';
import { focalPriorFromLens } from '../../../vision/geometry/focal-prior.ts';
import type { CornersPx } from '../../../vision/geometry/frames.ts';
import { type Engine, type Measured, measureAndFit } from '../../../vision/measure-photo.ts';
import { measureSameContainer } from '../../../vision/measure-same-container.ts';
import weightsUrl from '../../../vision/network/outline-model.onnx?url';
import { loadOutlineModel } from '../../../vision/network/outline-model.ts';
import { loadOpenCv } from '../../../vision/opencv/load-opencv.ts';
import type { Photo } from '../../../vision/picture/photo.ts';
import { type CardLike, cardLikePlaces, placesToCover } from '../../../vision/reference/find-card.ts';
import { ID1_CARD } from '../../../vision/reference/reference.ts';
import { BoundedMap } from './bounded-map.ts';
import { coveredPicture, faceless } from './covered-picture.ts';
import { decodePhoto } from './decode-photo.ts';
import { askedBy, type KnownPhoto, type MeasureQuestion } from './questions.ts';
import type { NotOpened, OpenedPhoto, VisionWorkerApi } from './worker-api.ts';
import { beginLife } from './worker-life.ts';

/** Two of the largest photos that are measured (24 megapixels, 4 bytes each): two photos of a container, or it and its work. */
const MAX_PHOTO_BYTES = 200e6;
/** What is held of a measured photo: outline, knots, covariance; a fit with 600 outline points and 60 knots comes to half of this. */
const FIT_BYTES = 1e6;
/** More photos of one container than anybody takes. */
const MAX_FIT_BYTES = 24 * FIT_BYTES;

interface Held {
  readonly photo: Photo;
  readonly display: Blob | null;
}

/** How a photo was last explained, and to which question. */
interface Explained {
  readonly options: string;
  readonly measured: Measured;
}

const photos = new BoundedMap<Held>(MAX_PHOTO_BYTES, ({ photo, display }) => photo.rgba.length + (display?.size ?? 0));
const explained = new BoundedMap<Explained>(MAX_FIT_BYTES, () => FIT_BYTES);
/** Where a moving hand is followed from. */
const followed = new BoundedMap<ContainerFit>(MAX_FIT_BYTES, () => FIT_BYTES);
/** Every place in a photo that may be a card. */
const cardLike = new BoundedMap<readonly CardLike[]>(MAX_FIT_BYTES, () => FIT_BYTES);
let loading: Promise<Engine> | null = null;
let waiting = 0;

/** Counts what waits, so that a question that went astray can be told from one that waits its turn. */
async function waitFor<T>(awaited: Promise<T>): Promise<T> {
  waiting += 1;
  try {
    return await awaited;
  } finally {
    waiting -= 1;
  }
}

/** OpenCV and the outline network, fetched side by side; without the network the engine still works. */
function loadEngine(): Promise<Engine> {
  loading ??= Promise.all([loadOpenCv(), fetchWeights()]).then(([{ cv }, weights]) => ({
    cv,
    outlineModel: weights && loadOutlineModel(cv, weights),
  }));
  return waitFor(loading);
}

async function fetchWeights(): Promise<Uint8Array | null> {
  try {
    const response = await fetch(weightsUrl);
    return response.ok ? new Uint8Array(await response.arrayBuffer()) : null;
  } catch {
    return null;
  }
}

/** The photo of this name, decoded when it is not held (any more). */
async function held({ id, source, lens }: KnownPhoto): Promise<{ readonly ok: true; readonly held: Held } | NotOpened> {
  const known = photos.get(id);
  if (known && (known.photo.rgba.length > 0 || !(source instanceof Blob))) return { ok: true, held: known };
  if (!(source instanceof Blob)) {
    const photo = { ...source, rgba: new Uint8ClampedArray(0) };
    photos.set(id, { photo, display: null });
    return { ok: true, held: { photo, display: null } };
  }
  const decoded = await waitFor(decodePhoto(source));
  if (!decoded.ok) return decoded;
  const opened = lens ? { ...decoded, photo: { ...decoded.photo, lens } } : decoded;
  photos.set(id, opened);
  return { ok: true, held: opened };
}

function opened({ photo, display }: Held): OpenedPhoto {
  const { widthPx, heightPx, lens } = photo;
  return { facts: { widthPx, heightPx, lens }, display };
}

/** The answer to a question, looked up when it was answered before. */
function measured(
  engine: Engine,
  question: MeasureQuestion,
  photo: Photo,
  onStage: Parameters<typeof measureAndFit>[3],
) {
  const options = JSON.stringify(question.options);
  const before = explained.get(question.photo.id);
  if (before?.options === options) return before.measured;
  const measured = measureAndFit(engine, photo, question.options, onStage);
  explained.set(question.photo.id, { options, measured });
  if (measured.fit) followed.set(question.photo.id, measured.fit);
  return measured;
}

/** Whatever lies beside the container may be a card, also beside a coin and when another card gives the scale. */
function cardLikeIn({ cv }: Engine, id: string, photo: Photo): CornersPx[] {
  let places = cardLike.get(id);
  if (!places) {
    const focalPrior = focalPriorFromLens(photo.lens, photo.widthPx, photo.heightPx);
    places = cardLikePlaces(cv, photo, { focalPrior, reference: ID1_CARD });
    cardLike.set(id, places);
  }
  const result = explained.get(id)?.measured.result;
  return placesToCover(places, result?.outcome === 'measured' ? result.measurement.outlinePx : null);
}

const api: VisionWorkerApi = {
  begin: (name) => beginLife(name),
  async ping() {
    return { waiting };
  },
  async warmUp() {
    await loadEngine();
  },
  async open(photo) {
    const found = await held(photo);
    return found.ok ? { ok: true, ...opened(found.held) } : found;
  },
  async measure(question, onStage) {
    const found = await held(question.photo);
    if (!found.ok) return { ...askedBy(question), ...found };
    const { result } = measured(await loadEngine(), question, found.held.photo, onStage);
    return { ...askedBy(question), ok: true, result };
  },
  async follow(question) {
    const found = await held(question.photo);
    if (!found.ok) return { ...askedBy(question), ...found };
    const { id } = question.photo;
    const engine = await loadEngine();
    const { result, fit } = measureAndFit(
      engine,
      found.held.photo,
      question.options,
      () => {},
      followed.get(id) ?? null,
    );
    if (fit) followed.set(id, fit);
    return { ...askedBy(question), ok: true, result };
  },
  async measureTogether(questions) {
    const engine = await loadEngine();
    const all: Measured[] = [];
    for (const question of questions) {
      const known = explained.get(question.photo.id);
      if (known?.options === JSON.stringify(question.options)) {
        all.push(known.measured);
        continue;
      }
      const found = await held(question.photo);
      if (found.ok) all.push(measured(engine, question, found.held.photo, () => {}));
    }
    return measureSameContainer(all)?.measurement ?? null;
  },
  async measureWork(question, piece, onStage) {
    const found = await held(question.photo);
    if (!found.ok) return { ...askedBy(question), ...found };
    const result = measureWork(await loadEngine(), found.held.photo, piece, question.options, onStage);
    return { ...askedBy(question), ok: true, opened: opened(found.held), result };
  },
  async coveredPicture(photo, places) {
    const found = await held(photo);
    if (!found.ok || found.held.photo.rgba.length === 0) return null;
    const like = cardLikeIn(await loadEngine(), photo.id, found.held.photo);
    return waitFor(coveredPicture(found.held.photo, [...places, ...like]));
  },
  async faceless(photo, places) {
    const found = await held(photo);
    if (!found.ok || found.held.photo.rgba.length === 0) return null;
    const like = cardLikeIn(await loadEngine(), photo.id, found.held.photo);
    return waitFor(faceless(found.held.photo, [...places, ...like]));
  },
};

expose(api);
