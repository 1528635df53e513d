import * as v from 'valibot';
import type { Measurement } from '../../vision/measurement.ts';
import { type AppState, ASIDES, type FurtherPhoto, type Job, PLACES, type Screen, STEPS } from '../app/app-state.ts';
import { cornersOf } from '../engine/measure-options.ts';
import { newPhotoId, type PhotoFacts } from '../engine/measuring.ts';
import type { WorkCheck } from '../flat-piece/work-check.ts';
import { gaugeEntryFrom } from '../gauge/gauge-entry.ts';
import { choicesFrom, planProgressFrom } from '../plan/plan-progress.ts';
import type { SessionRecord } from './database.ts';
import { MeasurementSchema, OrderSchema, TapeSchema } from './records.ts';
import { storageTrouble } from './storage-trouble.ts';
import type { Store } from './store.ts';

/** Raised whenever a stored job has another shape; `jobOfSession` still reads those of the version before. */
const SESSION_VERSION = 3;
const READ_VERSIONS = [2, SESSION_VERSION] as const;
const TAB_KEY = 'roundwise-session';
/** Jobs of tabs long closed; what they held of worth is kept in its own right. */
const FORGET_AFTER_MS = 60 * 24 * 3600_000;

type Saved = Pick<AppState, 'screen' | 'job' | 'lastGauge'>;

/** As much of a stored job as every screen relies on. */
const SavedSchema = v.looseObject({
  version: v.picklist(READ_VERSIONS),
  screen: v.string(),
  job: v.nullable(
    v.looseObject({
      id: v.string(),
      label: v.string(),
      photo: v.nullable(v.looseObject({ widthPx: v.number(), heightPx: v.number(), lens: v.looseObject({}) })),
      edits: v.looseObject({}),
      past: v.array(v.looseObject({})),
      future: v.array(v.looseObject({})),
      result: v.nullable(
        v.variant('outcome', [
          v.looseObject({
            outcome: v.literal('measured'),
            measurement: MeasurementSchema,
            warnings: v.array(v.looseObject({})),
          }),
          v.looseObject({
            outcome: v.literal('refused'),
            reason: v.looseObject({}),
            found: v.looseObject({}),
            warnings: v.array(v.looseObject({})),
          }),
        ]),
      ),
      furtherPhotos: v.array(v.union([v.looseObject({ measurement: MeasurementSchema }), MeasurementSchema])),
      together: v.optional(v.nullable(MeasurementSchema), null),
      tape: TapeSchema,
    }),
  ),
});

/** `original` only when the maker asked to keep photos. */
interface Pictures {
  readonly blanked: Blob | null;
  readonly original: Blob | null;
}

export interface Session {
  /** Names this tab among all that are open. */
  readonly id: string;
  readonly restored: (Saved & Pictures) | null;
  /** The job of this tab is there but damaged, and was left out. */
  readonly damaged: boolean;
  /** What the store writes down of the job in hand. */
  record(state: Saved, pictures: Pictures): SessionRecord;
}

/**
 * The job this tab works on. A reloaded tab finds its own again; a new tab takes up the latest one that no open tab
 * holds, so that closing the page loses nothing and two tabs never write over each other.
 * @throws StorageTrouble
 */
export async function claimSession(store: Store): Promise<Session> {
  try {
    const sessions = [...(await store.sessions())].sort((a, b) => b.savedAt - a.savedAt);
    for (const old of sessions.filter((session) => Date.now() - session.savedAt > FORGET_AFTER_MS)) {
      await store.forgetSession(old.id);
    }
    const own = sessionStorage.getItem(TAB_KEY);
    const candidates = [...(own ? [own] : []), ...sessions.map((session) => session.id).filter((id) => id !== own)];
    for (const id of candidates) {
      if (await hold(id)) return sessionFor(id, sessions.find((session) => session.id === id) ?? null);
    }
    const fresh = crypto.randomUUID();
    await hold(fresh);
    return sessionFor(fresh, null);
  } catch (thrown) {
    throw storageTrouble(thrown);
  }
}

/** Tabs that are open, by the names of their sessions; null when the browser does not say. */
export async function openSessions(): Promise<readonly string[] | null> {
  const locks = await navigator.locks?.query().catch(() => null);
  return locks?.held?.flatMap(({ name }) => (name?.startsWith(LOCK) ? [name.slice(LOCK.length)] : [])) ?? null;
}

function sessionFor(id: string, saved: SessionRecord | null): Session {
  sessionStorage.setItem(TAB_KEY, id);
  const state = saved?.state as (Saved & { version: number }) | undefined;
  const usable = v.is(SavedSchema, state);
  return {
    id,
    restored:
      saved && state && usable
        ? {
            screen: screenOfSession(state.screen),
            lastGauge: state.lastGauge == null ? null : gaugeEntryFrom(state.lastGauge),
            job: state.job && jobOfSession(state.job as unknown as StoredJob),
            blanked: saved.blanked,
            original: saved.original,
          }
        : null,
    damaged: state !== undefined && READ_VERSIONS.some((version) => version === state.version) && !usable,
    record({ screen, job, lastGauge }, pictures) {
      return { id, savedAt: Date.now(), state: { version: SESSION_VERSION, screen, job, lastGauge }, ...pictures };
    },
  };
}

/** Earlier versions had the drawing on the photo on a screen of its own. */
function screenOfSession(screen: string): Screen {
  const known = [...STEPS, ...PLACES, ...ASIDES].find((each) => each === screen);
  return known ?? (screen === 'check' ? 'sizes' : 'photo');
}

type Newer =
  | 'photo'
  | 'work'
  | 'furtherPhotos'
  | 'cardPlaces'
  | 'order'
  | 'sent'
  | 'gauge'
  | 'choices'
  | 'progress'
  | 'planId';

/** Photos had no name of their own in earlier versions. */
type StoredPhoto = (PhotoFacts & { readonly id?: string }) | null;

/** A job as a session of this version or the one before holds it. */
type StoredJob = Omit<Job, Newer> & {
  readonly photo: StoredPhoto;
  readonly work: (Omit<WorkCheck, 'photo'> & { readonly photo: StoredPhoto }) | null;
  readonly furtherPhotos: readonly (FurtherPhoto | Measurement)[];
  readonly cardPlaces?: Job['cardPlaces'];
  readonly cardSeenPx?: Job['cardPlaces'][number] | null;
  readonly order?: unknown;
  readonly sent?: Job['sent'];
  readonly planId: string | null;
  readonly keptAt?: number | null;
  readonly gauge: unknown;
  readonly choices: unknown;
  readonly progress: unknown;
};

/** A stored job in today's shape, with gauge, choices and progress read once and for all. */
function jobOfSession({ cardSeenPx = null, keptAt = null, cardPlaces, ...stored }: StoredJob): Job {
  const { photo, work } = stored;
  const earlier = [...stored.past, stored.edits, ...stored.future].map((edits) => edits.cornersPx);
  const seen = [cardSeenPx, stored.result && cornersOf(stored.result), ...earlier].filter((place) => place != null);
  return {
    ...stored,
    photo: photo && { id: photo.id ?? stored.id, widthPx: photo.widthPx, heightPx: photo.heightPx, lens: photo.lens },
    work: work && { ...work, photo: work.photo && { id: newPhotoId(), ...work.photo } },
    furtherPhotos: stored.furtherPhotos.map((further) =>
      'measurement' in further ? further : { photo: newPhotoId(), measurement: further },
    ),
    cardPlaces: cardPlaces ?? seen,
    order: v.is(OrderSchema, stored.order) ? stored.order : null,
    sent: stored.sent ?? null,
    container: stored.container ?? null,
    createdAt: stored.createdAt ?? keptAt ?? Date.now(),
    planId: stored.planId ?? crypto.randomUUID(),
    planBegun: stored.planBegun ?? (stored.planId != null || stored.progress != null || stored.choices != null),
    stored: stored.stored ?? { container: null, plan: null },
    gauge: stored.gauge == null ? null : gaugeEntryFrom(stored.gauge),
    choices: stored.choices == null ? null : choicesFrom(stored.choices),
    progress: stored.progress == null ? null : planProgressFrom(stored.progress),
  };
}

const LOCK = 'roundwise-session-';

/** Holds this job for as long as the tab lives. False when another tab has it. */
function hold(id: string): Promise<boolean> {
  return new Promise((resolve) => {
    navigator.locks
      .request(LOCK + id, { ifAvailable: true }, (lock) => {
        resolve(lock !== null);
        return lock ? new Promise<void>(() => {}) : undefined;
      })
      .catch(() => resolve(true));
  });
}
