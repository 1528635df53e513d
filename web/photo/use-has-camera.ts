import { useEffect, useState } from 'react';

/** Whether a camera is there to look through; nobody is asked for it yet. */
export function useHasCamera(): boolean {
  const [isThere, setThere] = useState(false);
  useEffect(() => {
    let left = false;
    const devices = navigator.mediaDevices?.enumerateDevices?.() ?? Promise.resolve([]);
    devices.then(
      (all) => left || setThere(all.some(({ kind }) => kind === 'videoinput')),
      () => {},
    );
    return () => {
      left = true;
    };
  }, []);
  return isThere;
}
