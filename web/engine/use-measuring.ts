import { createContext, useContext } from 'react';
import type { Measuring } from './measuring.ts';

const MeasuringContext = createContext<Measuring | null>(null);

export const MeasuringProvider = MeasuringContext.Provider;

/** The engine of this page; there is one for all screens. */
export function useMeasuring(): Measuring {
  const measuring = useContext(MeasuringContext);
  if (!measuring) throw new Error('no engine around this part of the page');
  return measuring;
}
