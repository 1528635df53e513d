import { CONTAINER_LIMITS } from '../../sizing/container.ts';

const [minAcross, maxAcross] = CONTAINER_LIMITS.diameterMm;
const [minHeight, maxHeight] = CONTAINER_LIMITS.heightMm;

/** Between which a length typed for a container is taken, mm. */
export const TAPE_LIMITS = {
  around: { min: minAcross * Math.PI, max: maxAcross * Math.PI },
  across: { min: minAcross, max: maxAcross },
  height: { min: minHeight, max: maxHeight },
} as const;
