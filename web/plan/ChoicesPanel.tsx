import { useId } from 'react';
import {
  CARRIER_KINDS,
  defaultChoices,
  MESH_KINDS,
  STRAP_CORDS,
  STRAP_FASTENINGS,
  STRAP_STYLES,
  TOP_WAYS,
} from '../../sizing/choices.ts';
import { MATERIALS } from '../../sizing/container.ts';
import type { FabricStitch } from '../../sizing/stitches.ts';
import { useSettings } from '../app/use-settings.ts';
import type { OwnRounds } from '../regrade/own-rounds.ts';
import { useRegradeText } from '../regrade/regrade-text.ts';
import { numberText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { Note } from '../ui/Note.tsx';
import { LengthField, NumberField } from '../ui/NumberField.tsx';
import { Segments } from '../ui/Segments.tsx';
import type { PlanChoices } from './plan-progress.ts';
import { useVoice } from './use-voice.ts';

interface ChoicesPanelProps {
  readonly choices: PlanChoices;
  readonly onChange: (choices: PlanChoices) => void;
  /** Rounds are ticked already. */
  readonly isWorked: boolean;
  /** The container narrows so much that what passes its widest place stands off above it. */
  readonly narrows: boolean;
}

const EASES = [-0.1, -0.05, -0.03, 0, 0.03, 0.05, 0.1] as const;

/** What the maker decides. Every change makes the plan anew at once. */
export function ChoicesPanel({ choices, onChange, isWorked, narrows }: ChoicesPanelProps) {
  const words = useText().plan;
  const set = (part: Partial<PlanChoices>) => onChange({ ...choices, ...part });
  const changeCarrier = (carrier: PlanChoices['carrier']) => {
    const { easeRatio, band, strap } = defaultChoices(carrier);
    set({ carrier, easeRatio, band, strap, baseCandidate: 0 });
  };
  const isMat = choices.carrier === 'mat';
  if (choices.own) return <OwnRoundsChoices own={choices.own} choices={choices} set={set} />;
  return (
    <div className="panel stack">
      <Segments
        legend={words.carrier}
        options={CARRIER_KINDS}
        value={choices.carrier}
        name={(carrier) => words.carriers[carrier]}
        onChange={changeCarrier}
      />
      <details className="plan__choices">
        <summary>{words.choicesTitle}</summary>
        <div className="stack">
          {isWorked && <Note kind="warn">{words.choicesWorked}</Note>}
          {choices.carrier === 'net' && <NetKind choices={choices} set={set} />}
          {!isMat && <StrapStyle choices={choices} set={set} />}
          {!isMat && <StripeChoices choices={choices} set={set} />}
          {!isMat && (narrows || choices.top !== 'pulled-over') && <TopChoice choices={choices} set={set} />}
          {isMat ? (
            <LengthField
              label={words.overhang}
              value={choices.matOverhangMm}
              onChange={(overhangMm) => set({ matOverhangMm: overhangMm ?? 0 })}
              min={0}
              max={100}
            />
          ) : (
            <details className="plan__choices">
              <summary>{words.choicesMore}</summary>
              <div className="stack">
                {choices.carrier === 'net' && <NetDetails choices={choices} set={set} />}
                <BodyChoices choices={choices} set={set} />
                <StrapDetails choices={choices} set={set} />
                <ContainerMass choices={choices} set={set} />
                <MoneyChoices choices={choices} set={set} />
              </div>
            </details>
          )}
          {isMat && <MoneyChoices choices={choices} set={set} />}
        </div>
      </details>
    </div>
  );
}

/** A plan from her own rounds: what they say is not asked again. */
function OwnRoundsChoices({ own, choices, set }: PartProps & { readonly own: OwnRounds }) {
  const words = useText().plan;
  const { screen } = useRegradeText();
  return (
    <div className="panel stack">
      <p>
        {screen.from} {own.rounds}
      </p>
      <div className="row">
        <a className="button" href="#regrade">
          {screen.change}
        </a>
        <button type="button" className="button" onClick={() => set({ own: null })}>
          {screen.without}
        </button>
      </div>
      <details className="plan__choices">
        <summary>{words.choicesTitle}</summary>
        <div className="stack">
          {choices.carrier !== 'mat' && <StrapStyle choices={choices} set={set} />}
          {choices.carrier !== 'mat' && <StrapDetails choices={choices} set={set} />}
          {choices.carrier !== 'mat' && <ContainerMass choices={choices} set={set} />}
          <MoneyChoices choices={choices} set={set} />
        </div>
      </details>
    </div>
  );
}

interface PartProps {
  readonly choices: PlanChoices;
  readonly set: (part: Partial<PlanChoices>) => void;
}

/** Lower posts make no net. */
const POSTS = ['hdc', 'dc', 'tr'] as const satisfies readonly FabricStitch[];

/** The kind of net and how large its holes may be: what a maker sees of it. */
function NetKind({ choices, set }: PartProps) {
  const words = useText().plan;
  const { mesh } = choices;
  return (
    <>
      <Segments
        legend={words.mesh}
        options={MESH_KINDS}
        value={mesh.kind}
        name={(kind) => words.meshes[kind]}
        onChange={(kind) => set({ mesh: { ...mesh, kind } })}
      />
      <div className="fields">
        <LengthField
          label={words.hole}
          hint={words.holeHint}
          value={mesh.mostHoleMm}
          onChange={(mostHoleMm) => set({ mesh: { ...mesh, mostHoleMm } })}
          min={5}
          max={100}
        />
      </div>
    </>
  );
}

function NetDetails({ choices, set }: PartProps) {
  const words = useText().plan;
  const voice = useVoice();
  const { mesh } = choices;
  return (
    <>
      {mesh.kind !== 'loop' && (
        <Segments
          legend={words.post}
          options={POSTS}
          value={mesh.postStitch}
          name={(stitch) => voice.longStitch(stitch)}
          onChange={(postStitch) => set({ mesh: { ...mesh, postStitch } })}
        />
      )}
      <div className="fields">
        <NumberField
          label={words.chains}
          hint={words.fitted}
          digits={0}
          value={mesh.chains}
          onChange={(chains) => set({ mesh: { ...mesh, chains } })}
          min={1}
          max={15}
        />
        {mesh.mostHoleMm === null && (
          <NumberField
            label={words.skip}
            digits={0}
            required
            value={mesh.skip}
            onChange={(skip) => set({ mesh: { ...mesh, skip: skip ?? mesh.skip } })}
            min={1}
            max={8}
          />
        )}
      </div>
    </>
  );
}

function BodyChoices({ choices, set }: PartProps) {
  const words = useText().plan;
  const { language } = useSettings();
  const id = useId();
  const { band } = choices;
  const isNet = choices.carrier === 'net';
  return (
    <div className="fields">
      <LengthField
        label={words.cover}
        hint={words.coverAuto}
        value={choices.coverHeightMm}
        onChange={(coverHeightMm) => set({ coverHeightMm })}
        min={10}
        max={700}
      />
      <div className="field">
        <label htmlFor={id}>{words.ease}</label>
        <select id={id} value={choices.easeRatio} onChange={(event) => set({ easeRatio: Number(event.target.value) })}>
          {EASES.map((ease) => (
            <option key={ease} value={ease}>
              {ease === 0
                ? words.easeNone
                : `${ease > 0 ? '+' : '−'}${numberText(Math.abs(ease) * 100, 0, language)} %`}
            </option>
          ))}
        </select>
      </div>
      {isNet && (
        <NumberField
          label={words.wallRounds}
          digits={0}
          required
          value={choices.plainWallRounds}
          onChange={(rounds) => set({ plainWallRounds: rounds ?? choices.plainWallRounds })}
          min={0}
          max={30}
        />
      )}
      <NumberField
        label={words.bandRounds}
        digits={0}
        required
        value={band.rounds}
        onChange={(rounds) => set({ band: { ...band, rounds: rounds ?? band.rounds } })}
        min={isNet ? 1 : 0}
        max={12}
      />
      {isNet && (
        <NumberField
          label={words.perSpace}
          hint={words.fitted}
          digits={0}
          value={band.stitchesPerSpace}
          onChange={(stitchesPerSpace) => set({ band: { ...band, stitchesPerSpace } })}
          min={1}
          max={12}
        />
      )}
    </div>
  );
}

function StripeChoices({ choices, set }: PartProps) {
  const words = useText().plan;
  const { stripes } = choices;
  return (
    <div className="fields">
      <NumberField
        label={words.colours}
        hint={words.coloursHint}
        digits={0}
        required
        value={stripes.colours}
        onChange={(colours) => set({ stripes: { ...stripes, colours: colours ?? 1 } })}
        min={1}
        max={4}
      />
      {stripes.colours > 1 && (
        <NumberField
          label={words.stripeRounds}
          digits={0}
          required
          value={stripes.rounds}
          onChange={(rounds) => set({ stripes: { ...stripes, rounds: rounds ?? stripes.rounds } })}
          min={1}
          max={20}
        />
      )}
    </div>
  );
}

function TopChoice({ choices, set }: PartProps) {
  const words = useText().plan;
  return (
    <div>
      <Segments
        legend={words.top}
        options={TOP_WAYS}
        value={choices.top}
        name={(top) => words.tops[top]}
        onChange={(top) => set({ top })}
      />
      <p className="quiet small">{words.topHint}</p>
    </div>
  );
}

function StrapStyle({ choices, set }: PartProps) {
  const words = useText().plan;
  const { strap } = choices;
  return (
    <Segments
      legend={words.strap}
      options={STRAP_STYLES}
      value={strap.style}
      name={(style) => words.straps[style]}
      onChange={(style) => set({ strap: { ...strap, style } })}
    />
  );
}

function StrapDetails({ choices, set }: PartProps) {
  const words = useText().plan;
  const { strap } = choices;
  if (strap.style === 'none') return null;
  return (
    <>
      <Segments
        legend={words.fastening}
        options={STRAP_FASTENINGS}
        value={strap.fastening}
        name={(fastening) => words.fastenings[fastening]}
        onChange={(fastening) => set({ strap: { ...strap, fastening } })}
      />
      <Segments
        legend={words.cordKind}
        options={STRAP_CORDS}
        value={strap.cord}
        name={(cord) => words.cordKinds[cord]}
        onChange={(cord) => set({ strap: { ...strap, cord } })}
      />
      <div className="fields">
        <LengthField
          label={words.strapLength}
          hint={words.strapAuto}
          metric="cm"
          value={strap.lengthMm}
          onChange={(lengthMm) => set({ strap: { ...strap, lengthMm } })}
          min={50}
          max={2500}
        />
        <LengthField
          label={words.wearer}
          hint={words.wearerHint}
          metric="cm"
          value={strap.wearerAroundMm}
          onChange={(wearerAroundMm) => set({ strap: { ...strap, wearerAroundMm } })}
          min={300}
          max={2500}
        />
      </div>
    </>
  );
}

function ContainerMass({ choices, set }: PartProps) {
  const words = useText().plan;
  const id = useId();
  return (
    <div className="fields">
      <div className="field">
        <label htmlFor={id}>{words.material}</label>
        <select
          id={id}
          value={choices.material ?? ''}
          onChange={(event) => set({ material: MATERIALS.find((each) => each === event.target.value) ?? null })}
        >
          <option value="">{words.materialUnknown}</option>
          {MATERIALS.map((material) => (
            <option key={material} value={material}>
              {words.materials[material]}
            </option>
          ))}
        </select>
      </div>
      <NumberField
        label={words.emptyMass}
        unit="g"
        value={choices.emptyMassG}
        onChange={(emptyMassG) => set({ emptyMassG })}
        min={0}
        max={10_000}
      />
    </div>
  );
}

function MoneyChoices({ choices, set }: PartProps) {
  const words = useText().plan;
  const id = useId();
  return (
    <div className="fields">
      <NumberField
        label={words.hourlyRate}
        value={choices.hourlyRate}
        onChange={(hourlyRate) => set({ hourlyRate })}
        min={0}
        max={1e6}
      />
      <NumberField label={words.price} value={choices.price} onChange={(price) => set({ price })} min={0} max={1e6} />
      <NumberField
        label={words.fees}
        unit="%"
        digits={1}
        value={choices.feeShare === 0 ? null : 100 * choices.feeShare}
        onChange={(percent) => set({ feeShare: (percent ?? 0) / 100 })}
        min={0}
        max={90}
      />
      <div className="field">
        <label htmlFor={id}>{words.currency}</label>
        <input
          id={id}
          type="text"
          maxLength={4}
          value={choices.currency}
          onChange={(event) => set({ currency: event.target.value })}
        />
      </div>
    </div>
  );
}
