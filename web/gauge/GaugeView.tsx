import { type ReactNode, useId, useState } from 'react';
import { flatIncreases } from '../../sizing/base/flat-circle.ts';
import { FIBRES, type Gauge } from '../../sizing/gauge.ts';
import type { Refusal } from '../../sizing/refusal.ts';
import { FABRIC_STITCHES } from '../../sizing/stitches.ts';
import { YARN_CATEGORIES } from '../../sizing/yarn-standards.ts';
import { useSettings } from '../app/use-settings.ts';
import { longStitch, shortStitch } from '../plan/stitch-words.ts';
import { lengthText, numberText, spreadText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Fold } from '../ui/Fold.tsx';
import { Icon } from '../ui/Icon.tsx';
import { Note } from '../ui/Note.tsx';
import { LengthField, NumberField } from '../ui/NumberField.tsx';
import { Segments } from '../ui/Segments.tsx';
import { type GaugeEntry, gaugeOf } from './gauge-entry.ts';
import { GaugeSummary } from './YarnButton.tsx';
import './gauge.css';

export interface KeptGauge {
  readonly id: string;
  readonly entry: GaugeEntry;
}

interface GaugeViewProps {
  readonly entry: GaugeEntry;
  readonly onEntry: (entry: GaugeEntry) => void;
  readonly kept: readonly KeptGauge[];
  /** Keep the entry under its name. */
  readonly onKeep: () => void;
  /** Measures a swatch by a photo instead of a ruler. */
  readonly onPhotograph: () => void;
}

/** Which yarn, which hook: what was kept, a preset to start with, or the maker's own swatch. */
export function GaugeView({ entry, onEntry, kept, onKeep, onPhotograph }: GaugeViewProps) {
  const words = useText().gauge;
  const change = (part: Partial<GaugeEntry>) => onEntry({ ...entry, ...part });
  const swatched = entry.source === 'swatch';
  return (
    <section className="gauge stack" aria-label={words.title}>
      <KeptGauges entry={entry} kept={kept} onUse={onEntry} />
      <YarnPresets entry={entry} change={change} />
      {!swatched && <p className="quiet small">{words.guessNote}</p>}
      <div>
        <Fold title={words.ownTitle} icon="ruler" open={swatched}>
          <p className="quiet">{words.lead}</p>
          <Segments
            legend={words.source}
            options={['swatch', 'guess'] as const}
            value={entry.source}
            name={(source) => words.sources[source]}
            onChange={(source) => change({ source })}
          />
          <StitchAndHook entry={entry} change={change} />
          {swatched ? (
            <SwatchFields entry={entry} change={change} onPhotograph={onPhotograph} />
          ) : (
            <CategoryField entry={entry} change={change} />
          )}
          <Outcome entry={entry} />
        </Fold>
        <Fold title={words.yarnTitle} icon="yarn">
          <YarnFields entry={entry} change={change} />
        </Fold>
        <Fold title={words.moreTitle} icon="plus">
          <MoreSamples entry={entry} change={change} />
        </Fold>
        <Fold title={words.keep} icon="save">
          <KeepGauge entry={entry} kept={kept} change={change} onKeep={onKeep} />
        </Fold>
      </div>
    </section>
  );
}

/**
 * Yarns to start with, by the category on the band. The hook is half a millimetre below the band's smallest: carriers
 * are worked firmly (common practice, no source).
 */
const PRESETS = [2, 3, 4, 5].map((category) => ({
  category,
  hookMm: YARN_CATEGORIES[category].hookMm[0] - 0.5,
}));

function YarnPresets({ entry, change }: PartProps) {
  const words = useText().gauge;
  const { language } = useSettings();
  const id = useId();
  return (
    <fieldset className="gauge__presets">
      <legend className="visually-hidden">{words.category}</legend>
      {PRESETS.map(({ category, hookMm }) => (
        <label key={category}>
          <input
            type="radio"
            name={id}
            className="visually-hidden"
            checked={entry.source === 'guess' && entry.category === category && entry.hookMm === hookMm}
            onChange={() => change({ source: 'guess', category, hookMm })}
          />
          <Ball category={category} />
          <strong>{words.yarnNames[category]}</strong>
          <span className="small">{words.presetHook(numberText(hookMm, 1, language))}</span>
        </label>
      ))}
    </fieldset>
  );
}

/** A ball of yarn; the strand is as thick beside the others as the band says. */
function Ball({ category }: { readonly category: number }) {
  const strand = 1.5 + 1.2 * (category - 1);
  const turns = Math.round(30 / strand);
  const across = Array.from({ length: turns }, (_, k) => -22 + (44 * (k + 0.5)) / turns);
  return (
    <svg
      viewBox="0 0 64 56"
      width="64"
      height="56"
      className={`gauge__ball gauge__ball--${category}`}
      aria-hidden="true"
    >
      <clipPath id={`ball-${category}`}>
        <circle cx="28" cy="28" r="24" />
      </clipPath>
      <g strokeWidth={strand}>
        <path className="gauge__strand" d="M44 46c6 8 12 6 18 4" />
      </g>
      <circle cx="28" cy="28" r="24" />
      <g clipPath={`url(#ball-${category})`} strokeWidth={Math.max(1, strand / 3)}>
        {across.map((x) => (
          <path key={`up ${x}`} d={`M${28 + x} 2Q${28 + x * 1.3} 16 ${22 + x * 0.4} 32`} />
        ))}
        {across.map((x) => (
          <path key={`down ${x}`} d={`M2 ${40 + x}Q${24} ${28 + x * 0.6} 54 ${42 + x}`} />
        ))}
      </g>
    </svg>
  );
}

type Change = (part: Partial<GaugeEntry>) => void;
interface PartProps {
  readonly entry: GaugeEntry;
  readonly change: Change;
}

interface KeptGaugesProps {
  readonly entry: GaugeEntry;
  readonly kept: readonly KeptGauge[];
  readonly onUse: (entry: GaugeEntry) => void;
}

function KeptGauges({ entry, kept, onUse }: KeptGaugesProps) {
  const words = useText().gauge;
  const titleId = useId();
  const current = JSON.stringify(entry);
  if (kept.length === 0) return null;
  return (
    <section className="stack stack--tight" aria-labelledby={titleId}>
      <h2 id={titleId}>{words.kept}</h2>
      <ul className="gauge__kept">
        {kept.map((each) => {
          const inUse = JSON.stringify(each.entry) === current;
          const name = each.entry.name || words.unnamed;
          return (
            <li key={each.id}>
              <button type="button" className="button" aria-pressed={inUse} onClick={() => onUse(each.entry)}>
                {inUse && <Icon name="check" />}
                <span>
                  {name}
                  <GaugeSummary entry={each.entry} />
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

function StitchAndHook({ entry, change }: PartProps) {
  const words = useText().gauge;
  const { terms } = useSettings();
  const id = useId();
  return (
    <div className="fields">
      <div className="field">
        <label htmlFor={id}>{words.stitch}</label>
        <select
          id={id}
          value={entry.stitch}
          onChange={(event) => change({ stitch: event.target.value as GaugeEntry['stitch'] })}
        >
          {FABRIC_STITCHES.map((stitch) => (
            <option key={stitch} value={stitch}>
              {words.stitchNames(longStitch(stitch, terms), shortStitch(stitch, terms))}
            </option>
          ))}
        </select>
      </div>
      <NumberField
        label={words.hook}
        unit="mm"
        value={entry.hookMm}
        onChange={(hookMm) => change({ hookMm })}
        min={0.5}
        max={60}
      />
      <NumberField
        label={words.strands}
        digits={0}
        required
        value={entry.strands}
        onChange={(strands) => change({ strands: strands ?? 1 })}
        min={1}
        max={12}
      />
    </div>
  );
}

function CategoryField({ entry, change }: PartProps) {
  const words = useText().gauge;
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{words.category}</label>
      <select id={id} value={entry.category} onChange={(event) => change({ category: Number(event.target.value) })}>
        {words.yarnNames.map((name, category) => (
          <option key={name} value={category}>
            {category} {name}
          </option>
        ))}
      </select>
    </div>
  );
}

function SwatchFields({ entry, change, onPhotograph }: PartProps & Pick<GaugeViewProps, 'onPhotograph'>) {
  const text = useText();
  const words = text.gauge;
  const wording = useSettings();
  const { swatch } = entry;
  const set = (part: Partial<GaugeEntry['swatch']>) => change({ swatch: { ...swatch, ...part } });
  return (
    <fieldset className="stack stack--tight">
      <legend>{words.swatchTitle}</legend>
      <p className="quiet small">{words.swatchLead}</p>
      <div className="fields gauge__pair">
        <NumberField
          label={words.stitches}
          value={swatch.stitches}
          onChange={(stitches) => set({ stitches })}
          min={1}
          max={500}
        />
        <LengthField
          label={words.over}
          metric="cm"
          value={swatch.widthMm}
          onChange={(widthMm) => set({ widthMm, sdMm: undefined })}
          min={5}
          max={2000}
        />
        <NumberField
          label={words.rounds}
          value={swatch.rounds}
          onChange={(rounds) => set({ rounds })}
          min={1}
          max={500}
        />
        <LengthField
          label={words.overHeight}
          metric="cm"
          value={swatch.heightMm}
          onChange={(heightMm) => set({ heightMm, sdMm: undefined })}
          min={5}
          max={2000}
        />
      </div>
      {swatch.sdMm !== undefined && (
        <p className="quiet small">{text.work.gauge.fromPhoto(spreadText({ value: 0, sd: swatch.sdMm }, wording))}</p>
      )}
      <div>
        <button type="button" className="button" onClick={onPhotograph}>
          <Icon name="camera" /> {text.work.photograph.swatch}
        </button>
      </div>
    </fieldset>
  );
}

function Outcome({ entry }: { readonly entry: GaugeEntry }) {
  const words = useText().gauge;
  const result = gaugeOf(entry);
  return (
    <div aria-live="polite">
      {result.outcome === 'gauge' && <GaugeNumbers gauge={result.gauge} />}
      {result.outcome === 'incomplete' && <p className="quiet">{words.missing}</p>}
      {result.outcome === 'refused' && (
        <Note kind="stop" title={words.tooOdd}>
          {gaugeProblem(result.reason, words.rangeProblems)}
        </Note>
      )}
    </div>
  );
}

interface RangeProblems {
  readonly ratio: string;
  readonly chain: string;
  readonly loop: string;
  readonly yarn: string;
  readonly cord: string;
  readonly width: string;
  readonly other: (field: string) => string;
}

function gaugeProblem({ field }: Refusal, words: RangeProblems): string {
  if (field.includes(' / ')) return words.ratio;
  if (field.startsWith('gauge.chainLength')) return words.chain;
  if (field.startsWith('gauge.meshSwatch')) return words.loop;
  if (field.startsWith('gauge.yarnPerStitch')) return words.yarn;
  if (field.startsWith('gauge.cordSample')) return words.cord;
  if (field.startsWith('gauge.stitchWidth') || field.startsWith('gauge.roundHeight')) return words.width;
  return words.other(field);
}

export function GaugeNumbers({ gauge }: { readonly gauge: Gauge }) {
  const words = useText().gauge;
  const wording = useSettings();
  const width = gauge.stitchWidthMm;
  const height = gauge.roundHeightMm;
  return (
    <div className="gauge__outcome">
      <strong>{words.result}</strong>
      <dl>
        <dt>{words.stitchWide}</dt>
        <dd className="number">{lengthText(width, wording)}</dd>
        <dt>{words.roundHigh}</dt>
        <dd className="number">{lengthText(height, wording)}</dd>
        <dt>{words.per10}</dt>
        <dd className="number">
          {numberText(100 / width.value, 1, wording.language)} × {numberText(100 / height.value, 1, wording.language)}
        </dd>
      </dl>
      <p className="quiet small">
        {words.flat(numberText(flatIncreases(height.value, width.value), 1, wording.language))}
      </p>
    </div>
  );
}

function YarnFields({ entry, change }: PartProps) {
  const words = useText().gauge;
  const { units } = useSettings();
  const id = useId();
  const { yarn } = entry;
  const set = (part: Partial<GaugeEntry['yarn']>) => change({ yarn: { ...yarn, ...part } });
  const perUnit = units === 'in' ? 0.9144 : 1;
  return (
    <div className="fields">
      <NumberField
        label={words.ball}
        unit="g"
        value={yarn.ballGrams}
        onChange={(ballGrams) => set({ ballGrams })}
        min={1}
        max={5000}
      />
      <NumberField
        label={`${words.metres} (${words.perGrams(`${yarn.ballGrams ?? 50} g`)})`}
        unit={units === 'in' ? 'yd' : 'm'}
        value={yarn.metresPerBall === null ? null : yarn.metresPerBall / perUnit}
        onChange={(length) => set({ metresPerBall: length === null ? null : length * perUnit })}
        min={1}
        max={20_000}
        digits={0}
      />
      <div className="field">
        <label htmlFor={id}>{words.fibre}</label>
        <select
          id={id}
          value={yarn.fibre}
          onChange={(event) => set({ fibre: event.target.value as GaugeEntry['yarn']['fibre'] })}
        >
          {FIBRES.map((fibre) => (
            <option key={fibre} value={fibre}>
              {words.fibres[fibre]}
            </option>
          ))}
        </select>
      </div>
      <NumberField
        label={words.price}
        value={yarn.pricePerBall}
        onChange={(pricePerBall) => set({ pricePerBall })}
        min={0}
        max={1e6}
      />
      <NumberField
        label={words.speed}
        hint={words.speedHint}
        value={entry.stitchesPerMinute}
        onChange={(stitchesPerMinute) => change({ stitchesPerMinute })}
        min={1}
        max={170}
      />
    </div>
  );
}

function MoreSamples({ entry, change }: PartProps) {
  const words = useText().gauge;
  const { samples } = entry;
  const set = (part: Partial<GaugeEntry['samples']>) => change({ samples: { ...samples, ...part } });
  const length = (
    key: 'twentyChainsMm' | 'yarnInTenStitchesMm' | 'yarnInTenCmOfCordMm' | 'loopBarMm',
    label: string,
    hint?: string,
  ): ReactNode => (
    <LengthField
      label={label}
      hint={hint}
      metric="cm"
      value={samples[key]}
      onChange={(value) => set({ [key]: value })}
      min={3}
      max={5000}
    />
  );
  const count = (key: 'stitchesInTenCmOfCord' | 'loopChains', label: string, most: number): ReactNode => (
    <NumberField
      label={label}
      digits={0}
      value={samples[key]}
      onChange={(value) => set({ [key]: value })}
      min={1}
      max={most}
    />
  );
  return (
    <>
      <p className="quiet">{words.moreLead}</p>
      <div className="fields">
        {length('twentyChainsMm', words.chain)}
        {length('yarnInTenStitchesMm', words.unravelled, words.unravelledHint)}
        {length('yarnInTenCmOfCordMm', words.cord)}
        {count('stitchesInTenCmOfCord', words.cordStitches, 200)}
        {length('loopBarMm', words.loop)}
        {count('loopChains', words.loopChains, 20)}
      </div>
    </>
  );
}

interface KeepGaugeProps extends PartProps {
  readonly kept: readonly KeptGauge[];
  readonly onKeep: () => void;
}

function KeepGauge({ entry, kept, change, onKeep }: KeepGaugeProps) {
  const words = useText().gauge;
  const id = useId();
  const [asked, setAsked] = useState(false);
  const isKept = kept.some((each) => JSON.stringify(each.entry) === JSON.stringify(entry));
  return (
    <>
      <div className="field">
        <label htmlFor={id}>{words.name}</label>
        <input
          id={id}
          type="text"
          maxLength={200}
          value={entry.name}
          onChange={(event) => change({ name: event.target.value })}
          aria-describedby={`${id}-hint`}
        />
        <span id={`${id}-hint`} className="hint">
          {words.nameHint}
        </span>
      </div>
      <div className="row">
        <button
          type="button"
          className="button"
          disabled={isKept}
          onClick={() => {
            setAsked(true);
            onKeep();
          }}
        >
          <Icon name="save" /> {words.keep}
        </button>
        <span role="status">{asked && isKept ? words.keptNow : ''}</span>
      </div>
    </>
  );
}
