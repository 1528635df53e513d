import * as v from 'valibot';
import type { Measurement } from '../../vision/measurement.ts';
import type { AppState, FurtherPhoto, Job } from '../app/app-state.ts';
import { cornersOf } from '../engine/measure-options.ts';
import { newPhotoId, type PhotoFacts } from '../engine/measuring.ts';
import { gaugeEntryFrom } from '../gauge/gauge-entry.ts';
import { choicesFrom, planProgressFrom } from '../plan/plan-progress.ts';
import { type Database, finished, type SessionRecord } from './database.ts';
import { MeasurementSchema, TapeSchema } from './records.ts';
import { storageTrouble } from './storage-trouble.ts';

/** Raised whenever a stored job has another shape; `jobOfSession` still reads those of the version before. */
const SESSION_VERSION = 3;
const READ_VERSIONS = [2, SESSION_VERSION] as const;
const TAB_KEY = 'roundwise-session';
/** Jobs of tabs long closed. */
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
      furtherPhotos: v.array(v.looseObject({})),
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
  readonly restored: (Saved & Pictures) | null;
  /** The job of this tab is there but damaged, and was left out. */
  readonly damaged: boolean;
  /** @throws StorageTrouble */
  save(state: AppState, pictures: Pictures): Promise<void>;
}

/**
 * The job this tab works on. A reloaded tab finds its own again; a new tab takes up the latest one that no open tab
 * holds, so that closing the page loses nothing and two tabs never write over each other.
 * @throws StorageTrouble
 */
export async function claimSession(database: Database): Promise<Session> {
  try {
    const sessions = (await database.getAll('session')).sort((a, b) => b.savedAt - a.savedAt);
    for (const old of sessions.filter((session) => Date.now() - session.savedAt > FORGET_AFTER_MS)) {
      await database.delete('session', old.id);
    }
    const own = sessionStorage.getItem(TAB_KEY);
    const candidates = [...(own ? [own] : []), ...sessions.map((session) => session.id).filter((id) => id !== own)];
    for (const id of candidates) {
      if (await hold(id)) return sessionFor(database, id, sessions.find((session) => session.id === id) ?? null);
    }
    const fresh = crypto.randomUUID();
    await hold(fresh);
    return sessionFor(database, fresh, null);
  } catch (thrown) {
    throw storageTrouble(thrown);
  }
}

function sessionFor(database: Database, id: string, saved: SessionRecord | null): Session {
  sessionStorage.setItem(TAB_KEY, id);
  const state = saved?.state as (Saved & { version: number }) | undefined;
  const usable = v.is(SavedSchema, state);
  return {
    restored:
      saved && state && usable
        ? {
            screen: state.screen,
            lastGauge: state.lastGauge == null ? null : gaugeEntryFrom(state.lastGauge),
            job: state.job && jobOfSession(state.job as unknown as StoredJob),
            blanked: saved.blanked,
            original: saved.original,
          }
        : null,
    damaged: state !== undefined && READ_VERSIONS.some((version) => version === state.version) && !usable,
    async save({ screen, job, lastGauge }, pictures) {
      try {
        const state = { version: SESSION_VERSION, screen, job, lastGauge };
        const transaction = database.transaction('session', 'readwrite');
        await finished(transaction, [transaction.store.put({ id, savedAt: Date.now(), state, ...pictures })]);
      } catch (thrown) {
        throw storageTrouble(thrown);
      }
    },
  };
}

/** A job as a session of this version or the one before holds it. */
type StoredJob = Omit<Job, 'photo' | 'furtherPhotos' | 'cardPlaces' | 'gauge' | 'choices' | 'progress'> & {
  readonly photo: (PhotoFacts & { readonly id?: string }) | null;
  readonly furtherPhotos: readonly (FurtherPhoto | Measurement)[];
  readonly cardPlaces?: Job['cardPlaces'];
  readonly cardSeenPx?: Job['cardPlaces'][number] | null;
  readonly gauge: unknown;
  readonly choices: unknown;
  readonly progress: unknown;
};

/** A stored job in today's shape, with gauge, choices and progress read once and for all. */
function jobOfSession({ cardSeenPx = null, cardPlaces, ...stored }: StoredJob): Job {
  const { photo } = stored;
  const earlier = [...stored.past, stored.edits, ...stored.future].map((edits) => edits.cornersPx);
  const seen = [cardSeenPx, stored.result && cornersOf(stored.result), ...earlier].filter((place) => place !== null);
  return {
    ...stored,
    photo: photo && { id: photo.id ?? stored.id, widthPx: photo.widthPx, heightPx: photo.heightPx, lens: photo.lens },
    furtherPhotos: stored.furtherPhotos.map((further) =>
      'measurement' in further ? further : { photo: newPhotoId(), measurement: further },
    ),
    cardPlaces: cardPlaces ?? seen,
    gauge: stored.gauge == null ? null : gaugeEntryFrom(stored.gauge),
    choices: stored.choices == null ? null : choicesFrom(stored.choices),
    progress: stored.progress == null ? null : planProgressFrom(stored.progress),
  };
}

/** Holds this job for as long as the tab lives. False when another tab has it. */
function hold(id: string): Promise<boolean> {
  return new Promise((resolve) => {
    navigator.locks
      .request(`roundwise-session-${id}`, { ifAvailable: true }, (lock) => {
        resolve(lock !== null);
        return lock ? new Promise<void>(() => {}) : undefined;
      })
      .catch(() => resolve(true));
  });
}
