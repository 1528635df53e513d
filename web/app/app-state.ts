import type { Container } from '../../sizing/container.ts';
import type { HandPlacement } from '../../vision/container/hand-placement.ts';
import type { CornersPx, ImagePoint } from '../../vision/geometry/frames.ts';
import type { Arrangement, Measurement, MeasureResult, Stage } from '../../vision/measurement.ts';
import { cornersOf } from '../engine/measure-options.ts';
import type { JobTrouble, OpenProblem, PhotoFacts, PhotoId } from '../engine/measuring.ts';
import { combinedMeasurement } from '../engine/several-photos.ts';
import type { WorkCheck } from '../flat-piece/work-check.ts';
import type { GaugeEntry } from '../gauge/gauge-entry.ts';
import type { Order } from '../keep/records.ts';
import { NO_TAPE, type Tape } from '../keep/tape.ts';
import type { SentPhoto } from '../photo/sent-photo.ts';
import type { PlanChoices, PlanProgress } from '../plan/plan-progress.ts';

/** Where the maker is. The first three are the places of a job, the rest stand beside it. */
export const STEPS = ['photo', 'sizes', 'plan'] as const;
export const PLACES = ['stall', 'orders', 'kept', 'regrade', 'guide', 'settings'] as const;
/** Reached from where they are needed; tape and gauge are sheets over photo and plan. */
export const ASIDES = ['tape', 'gauge', 'work', 'ruler'] as const;
export type Step = (typeof STEPS)[number];
export type Screen = Step | (typeof PLACES)[number] | (typeof ASIDES)[number];

/** The screen that a sheet lies over; any other screen itself. */
export function placeOf(screen: Screen): Screen {
  return screen === 'tape' ? 'photo' : screen === 'gauge' ? 'plan' : screen;
}

/** What the maker placed or said by hand; null is left to the engine. */
export interface Edits {
  readonly arrangement: Arrangement | null;
  /** Name or size of what lies beside it, as vision/reference/reference.ts and round-reference.ts read it. */
  readonly reference: string | null;
  /** A point on the coin or disc. */
  readonly referencePx: ImagePoint | null;
  readonly tapPx: ImagePoint | null;
  readonly cornersPx: CornersPx | null;
  readonly outlinePx: readonly ImagePoint[] | null;
  /** Standard uncertainty of these corners, photo px; left out when no finger placed them. */
  readonly placementSdPx?: number;
  /** What was moved of the solid that is drawn over the photo; left out in jobs of before there was one. */
  readonly hand?: readonly HandPlacement[];
  /** Near the end of a lying container that is its base. */
  readonly basePx: ImagePoint | null;
}
export const NO_EDITS: Edits = {
  arrangement: null,
  reference: null,
  referencePx: null,
  tapPx: null,
  cornersPx: null,
  outlinePx: null,
  hand: [],
  basePx: null,
};

/** The photo of a job. Its name in the engine is `id`; what the file was called is nobody's business. */
export type JobPhoto = PhotoFacts & { readonly id: PhotoId };

/** The same container in another photo. */
export interface FurtherPhoto {
  readonly photo: PhotoId;
  readonly measurement: Measurement;
}

/** One container on its way from photo to plan. */
export interface Job {
  /** The container record this job is kept as. */
  readonly id: string;
  readonly label: string;
  /** Null for a container known from the tape alone. */
  readonly photo: JobPhoto | null;
  readonly edits: Edits;
  readonly past: readonly Edits[];
  readonly future: readonly Edits[];
  /** Counts every change of `edits`; the result belongs to `measuredRevision`. */
  readonly revision: number;
  readonly measuredRevision: number;
  readonly result: MeasureResult | null;
  /** Every place in the photo where a card was ever found, guessed or placed. None is ever taken out: all are covered. */
  readonly cardPlaces: readonly CornersPx[];
  readonly furtherPhotos: readonly FurtherPhoto[];
  /** The one shape that explains all these photos best; null until the engine has found it. */
  readonly together: Measurement | null;
  readonly tape: Tape;
  /** Null while nobody asked for it. */
  readonly order: Order | null;
  /** What a photo that came from somebody else is; null for one taken or measured here. */
  readonly sent: SentPhoto | null;
  /** Sizes as a kept plan holds them, when its container is gone. */
  readonly container: Container | null;
  readonly createdAt: number;
  /** The plan record this job's plan is kept as, once it is begun. */
  readonly planId: string;
  readonly planBegun: boolean;
  /** The revisions of container and plan in the store that this job was taken up from; null for what was not stored. */
  readonly stored: { readonly container: number | null; readonly plan: number | null };
  /** Null until the maker says something about hand and yarn. */
  readonly gauge: GaugeEntry | null;
  /** Null for the usual plan. */
  readonly choices: PlanChoices | null;
  /** Null before the first round is ticked off or measured. */
  readonly progress: PlanProgress | null;
  /** Her work in a photo, until it went into plan or gauge. */
  readonly work: WorkCheck | null;
}

/** What the engine is doing for this job right now; never stored. */
export type Activity =
  | { readonly kind: 'idle' }
  | { readonly kind: 'opening' }
  | { readonly kind: 'measuring'; readonly stage: Stage | null }
  | { readonly kind: 'trouble'; readonly reason: JobTrouble | OpenProblem };

export interface AppState {
  readonly screen: Screen;
  readonly job: Job | null;
  readonly activity: Activity;
  /** Remembered for the next job. */
  readonly lastGauge: GaugeEntry | null;
}

export const START: AppState = { screen: 'photo', job: null, activity: { kind: 'idle' }, lastGauge: null };

export type Action =
  | { type: 'go'; screen: Screen }
  | { type: 'photo-opening' }
  | { type: 'photo-opened'; id: string; photo: JobPhoto; reference?: string | null; sent?: SentPhoto | null }
  | { type: 'tape-only'; id: string; tape: Tape }
  | { type: 'stage'; jobId: string; stage: Stage | null }
  | { type: 'measured'; jobId: string; revision: number; result: MeasureResult }
  /** `jobId` is null when the trouble is with a photo that has no job yet. */
  | { type: 'trouble'; jobId: string | null; reason: JobTrouble | OpenProblem }
  | { type: 'try-again' }
  | { type: 'edit'; edits: Partial<Edits> }
  | { type: 'find-again' }
  | { type: 'undo' }
  | { type: 'redo' }
  | { type: 'further-photo'; jobId: string; further: FurtherPhoto }
  | { type: 'without-further-photo'; photo: PhotoId }
  /** `of` are the photos that were measured together, the job's own at that revision. */
  | { type: 'together'; jobId: string; revision: number; of: readonly PhotoId[]; measurement: Measurement }
  | { type: 'label'; label: string }
  | { type: 'order'; order: Order | null }
  | { type: 'tape'; tape: Tape }
  | { type: 'gauge'; gauge: GaugeEntry }
  | { type: 'choices'; choices: PlanChoices }
  | { type: 'progress'; progress: PlanProgress }
  | { type: 'work'; change: (work: WorkCheck | null) => WorkCheck | null }
  /** Another tab changed what this job is kept as; it goes on from there. */
  | { type: 'changed-elsewhere'; job: Job }
  /** Another tab had changed it meanwhile: this one is now kept beside, under names of its own. */
  | { type: 'kept-beside'; jobId: string; id: string; planId: string }
  | { type: 'restore'; saved: Pick<AppState, 'screen' | 'job' | 'lastGauge'> }
  | { type: 'open-job'; job: Job; screen: Step }
  | { type: 'close-job' };

/** More steps back than anybody takes; older ones are forgotten. */
const MAX_UNDO = 100;

export function reduce(state: AppState, action: Action): AppState {
  switch (action.type) {
    case 'go':
      if (!canGo(state, action.screen)) return state;
      return { ...withJob(state, isPlanning(action.screen) ? { planBegun: true } : {}), screen: action.screen };
    case 'photo-opening':
      return { ...state, activity: { kind: 'opening' } };
    case 'photo-opened': {
      const opened = newJob(action.id, action.photo, NO_TAPE, state.lastGauge);
      const { reference = null, sent = null } = action;
      const job = { ...opened, edits: { ...NO_EDITS, reference }, sent };
      // At the stall the answer comes where the question was asked.
      const screen = state.screen === 'stall' ? 'stall' : 'sizes';
      return { ...state, screen, job, activity: { kind: 'measuring', stage: null } };
    }
    case 'tape-only': {
      const job = newJob(action.id, null, action.tape, state.lastGauge);
      return { ...state, screen: 'sizes', job, activity: { kind: 'idle' } };
    }
    case 'stage':
      if (state.job?.id !== action.jobId) return state;
      return { ...state, activity: { kind: 'measuring', stage: action.stage } };
    case 'measured':
      if (state.job?.id !== action.jobId) return state;
      return {
        ...withJob(state, {
          result: action.result,
          together: null,
          measuredRevision: action.revision,
          cardPlaces: withPlaces(state.job.cardPlaces, placesIn(action.result)),
        }),
        activity: { kind: 'idle' },
      };
    case 'trouble':
      if (action.jobId !== null && state.job?.id !== action.jobId) return state;
      return { ...state, activity: { kind: 'trouble', reason: action.reason } };
    case 'try-again':
      return { ...withJob(state, { revision: (state.job?.revision ?? 0) + 1 }), activity: { kind: 'idle' } };
    case 'edit':
      return withHistory(state, (job) => ({
        edits: { ...job.edits, ...action.edits },
        cardPlaces: withPlaces(job.cardPlaces, action.edits.cornersPx ? [action.edits.cornersPx] : []),
        past: [...job.past, job.edits].slice(-MAX_UNDO),
        future: [],
      }));
    case 'find-again':
      return withHistory(state, (job) => ({
        edits: { ...NO_EDITS, reference: job.edits.reference },
        past: [...job.past, job.edits].slice(-MAX_UNDO),
        future: [],
      }));
    case 'undo':
      return withHistory(state, (job) => {
        const edits = job.past.at(-1);
        return edits ? { edits, past: job.past.slice(0, -1), future: [job.edits, ...job.future] } : {};
      });
    case 'redo':
      return withHistory(state, (job) => {
        const [edits, ...future] = job.future;
        return edits ? { edits, past: [...job.past, job.edits], future } : {};
      });
    case 'further-photo':
      if (state.job?.id !== action.jobId) return state;
      return withJob(state, { furtherPhotos: [...state.job.furtherPhotos, action.further], together: null });
    case 'without-further-photo': {
      const photos = state.job?.furtherPhotos.filter(({ photo }) => photo !== action.photo) ?? [];
      return withJob(state, { furtherPhotos: photos, together: null });
    }
    case 'together':
      return state.job && isOf(state.job, action) ? withJob(state, { together: action.measurement }) : state;
    case 'order':
      return withJob(state, {
        order: action.order,
        // A container goes by its customer's name until it is given another.
        ...(state.job?.label === (state.job?.order?.customer ?? '') && { label: action.order?.customer ?? '' }),
      });
    case 'label':
      return withJob(state, { label: action.label });
    case 'tape':
      return withJob(state, { tape: action.tape });
    case 'gauge':
      return { ...withJob(state, { gauge: action.gauge, planBegun: true }), lastGauge: action.gauge };
    case 'choices':
      return withJob(state, { choices: action.choices, planBegun: true });
    case 'progress':
      return withJob(state, { progress: action.progress, planBegun: true });
    case 'work':
      return withJob(state, { work: action.change(state.job?.work ?? null) });
    case 'changed-elsewhere': {
      const { job } = state;
      if (job?.id !== action.job.id) return state;
      const cardPlaces = withPlaces(action.job.cardPlaces, job.cardPlaces);
      const { edits, past, future, revision, measuredRevision, photo, work, sent } = job;
      const here = { edits, past, future, revision, measuredRevision, photo, work, sent, cardPlaces };
      return withJob(state, { ...action.job, ...here });
    }
    case 'kept-beside':
      if (state.job?.id !== action.jobId) return state;
      return withJob(state, { id: action.id, planId: action.planId });
    case 'restore': {
      const { screen, job, lastGauge } = action.saved;
      const restored = { ...state, job, lastGauge };
      return canGo(restored, screen) ? { ...restored, screen } : restored;
    }
    case 'open-job':
      return { ...state, job: action.job, screen: action.screen, activity: { kind: 'idle' } };
    case 'close-job':
      return { ...state, job: null, screen: 'photo', activity: { kind: 'idle' } };
  }
}

/** What all photos of the job's container say together; null before one is measured. */
export function measurementOf(job: Job): Measurement | null {
  return job.result?.outcome === 'measured'
    ? (job.together ??
        combinedMeasurement([job.result.measurement, ...job.furtherPhotos.map(({ measurement }) => measurement)]))
    : null;
}

/** Whoever looks at a plan has begun it. */
function isPlanning(screen: Screen): boolean {
  return screen === 'plan' || screen === 'gauge';
}

/** A step can be visited once what it shows exists. */
export function canGo(state: AppState, screen: Screen): boolean {
  if (screen === 'sizes') return state.job !== null;
  if (screen === 'work') return state.job?.work != null;
  if (screen === 'gauge' || screen === 'plan') {
    return state.job !== null && (hasSizes(state.job) || state.job.container !== null);
  }
  return true;
}

/** True when photo or tape say how large the container is. */
export function hasSizes(job: Job): boolean {
  const taped = job.tape.circumferenceMm !== null && job.tape.heightMm !== null;
  return job.result?.outcome === 'measured' || taped;
}

export function newJob(id: string, photo: Job['photo'], tape: Tape, gauge: GaugeEntry | null): Job {
  return {
    id,
    label: '',
    photo,
    edits: NO_EDITS,
    past: [],
    future: [],
    revision: 1,
    measuredRevision: 0,
    result: null,
    cardPlaces: [],
    furtherPhotos: [],
    together: null,
    tape,
    order: null,
    sent: null,
    container: null,
    createdAt: Date.now(),
    planId: crypto.randomUUID(),
    planBegun: false,
    stored: { container: null, plan: null },
    gauge,
    choices: null,
    progress: null,
    work: null,
  };
}

/** True when somebody or something said for sure where the card is; a mere guess is not enough to keep a picture. */
export function isCardPlaced(job: Job): boolean {
  const placed = [...job.past, job.edits, ...job.future].some(({ cornersPx }) => cornersPx !== null);
  return placed || (job.result !== null && cornersOf(job.result) !== null);
}

/** Where a result found the card, or takes it to be. */
export function placesIn(result: MeasureResult): CornersPx[] {
  const guess = result.outcome === 'refused' ? result.found.cornersGuessPx : null;
  return [cornersOf(result), guess].filter((place) => place != null);
}

/** All of these places, each once. */
function withPlaces(places: readonly CornersPx[], more: readonly CornersPx[]): readonly CornersPx[] {
  const known = new Set(places.map((place) => JSON.stringify(place)));
  const news = more.filter((place) => !known.has(JSON.stringify(place)));
  return news.length === 0 ? places : [...places, ...news];
}

/** True when an answer about several photos is about those of this job as they are. */
function isOf(job: Job, { jobId, revision, of }: Extract<Action, { type: 'together' }>): boolean {
  const photos = [job.photo?.id, ...job.furtherPhotos.map(({ photo }) => photo)];
  return job.id === jobId && job.measuredRevision === revision && photos.join() === of.join();
}

function withJob(state: AppState, change: Partial<Job>): AppState {
  return state.job ? { ...state, job: { ...state.job, ...change } } : state;
}

function withHistory(state: AppState, change: (job: Job) => Partial<Job>): AppState {
  if (!state.job) return state;
  const changed = change(state.job);
  return changed.edits ? withJob(state, { ...changed, revision: state.job.revision + 1 }) : state;
}
