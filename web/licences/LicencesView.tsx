import { useEffect, useState } from 'react';
import { useText } from '../text/text.ts';
import { Note } from '../ui/Note.tsx';
import { LICENCES_FILE, type Licences } from './licences.ts';
import './licences.css';

/** The software inside the page, each part with its licence in full. */
export default function LicencesView() {
  const text = useText().shell.licences;
  const [licences, setLicences] = useState<Licences | 'failed' | null>(null);
  useEffect(() => {
    fetch(new URL(LICENCES_FILE, document.baseURI))
      .then((response) => response.json())
      .then(setLicences)
      .catch(() => setLicences('failed'));
  }, []);
  if (licences === 'failed') return <Note kind="warn">{text.failed}</Note>;
  return (
    <div className="stack stack--tight">
      <p>{text.lead}</p>
      <p>{text.network}</p>
      <p>{text.heic}</p>
      {licences?.parts.map(({ name, version, licence, source, textIndexes }) => (
        <details key={name} className="licences__part">
          <summary>
            {name} {version} · {licence}
          </summary>
          {source && <p className="quiet small">{source}</p>}
          {textIndexes.map((index) => (
            <pre key={index} className="licences__text" lang="en">
              {licences.texts[index]}
            </pre>
          ))}
        </details>
      ))}
    </div>
  );
}
