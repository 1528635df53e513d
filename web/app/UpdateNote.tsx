import { useEffect, useState } from 'react';
import { OTHER_TABS, TAB_GOES, USE_NOW } from '../engine/service-worker-words.ts';
import { useText } from '../text/text.ts';
import { Icon } from '../ui/Icon.tsx';

/**
 * Registers the service worker that makes the page work offline. A newer version waits until every tab is closed or
 * the maker asks for it: code is never swapped in the middle of a job.
 */
export function UpdateNote() {
  const text = useText().shell;
  const [waiting, setWaiting] = useState<ServiceWorker | null>(null);
  const [hidden, setHidden] = useState(false);
  const [otherTabs, setOtherTabs] = useState(false);
  useEffect(() => {
    if (!import.meta.env.PROD || !navigator.serviceWorker) return;
    void navigator.serviceWorker.register('./service-worker.js', { type: 'classic' }).then(
      (registration) => watchForUpdate(registration, setWaiting),
      () => {},
    );
  }, []);
  useEffect(() => {
    const going = () => navigator.serviceWorker?.controller?.postMessage(TAB_GOES);
    window.addEventListener('pagehide', going);
    return () => window.removeEventListener('pagehide', going);
  }, []);
  if (!waiting || hidden) return null;
  const startUpdate = () => {
    navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
    navigator.serviceWorker.addEventListener('message', ({ data }) => setOtherTabs(data === OTHER_TABS), {
      once: true,
    });
    waiting.postMessage(USE_NOW);
  };
  return (
    <div className="note no-print" role="status">
      <div className="stack stack--tight">
        <span>{otherTabs ? text.updateOtherTabs : text.update}</span>
        <div className="row">
          <button type="button" className="button" onClick={startUpdate}>
            {text.updateNow}
          </button>
          <button type="button" className="button button--quiet" onClick={() => setHidden(true)}>
            <Icon name="close" /> {text.close}
          </button>
        </div>
      </div>
    </div>
  );
}

function watchForUpdate(registration: ServiceWorkerRegistration, found: (waiting: ServiceWorker) => void): void {
  const announce = () => {
    if (registration.waiting && registration.active) found(registration.waiting);
  };
  announce();
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', announce);
  });
}
