import { projectPoint } from '../geometry/camera-ray.ts';
import type { ImagePoint } from '../geometry/frames.ts';
import { multiplyMatrices, type Vector3 } from '../geometry/linear3.ts';
import type { Measurement, ProfilePoint } from '../measurement.ts';
import { containerFeatures } from './container-features.ts';
import { cameraPoint } from './container-model.ts';
import { quadraticForm } from './container-sizes.ts';
import type { ContainerFit } from './fit-container.ts';
import { isBaseSeen } from './fit-warnings.ts';
import { traceVertex } from './profile-curve.ts';
import { projectModelOutline } from './project-model-outline.ts';
import { sizeEstimate } from './size-estimate.ts';

const OUTLINE_SPACING_PX = 6;

/** All sizes of the fitted container with their uncertainties; mm, ml, px. */
export function toMeasurement(fit: ContainerFit): Measurement {
  const { state, sight } = fit;
  const onAxis = (zMm: number): ImagePoint => {
    const [x, y, z]: Vector3 = cameraPoint(state, [0, 0, zMm]);
    return projectPoint(state.camera, x, y, z);
  };
  const spacingPx = OUTLINE_SPACING_PX * Math.max(1, Math.max(sight.imageWidthPx, sight.imageHeightPx) / 2000);
  return {
    arrangement: fit.arrangement,
    card: { cornersPx: sight.card.cornersPx, reference: sight.reference.name },
    baseDiameterMm: isBaseSeen(fit) ? sizeEstimate(fit, 'baseDiameterMm') : null,
    maxDiameterMm: sizeEstimate(fit, 'maxDiameterMm'),
    heightMm: sizeEstimate(fit, 'heightMm'),
    capacityMl: sizeEstimate(fit, 'capacityMl'),
    profile: profilePoints(fit),
    features: containerFeatures(fit, sizeEstimate(fit, 'baseEdgeRadiusMm')),
    focalLengthPx: sizeEstimate(fit, 'focalLengthPx'),
    outlinePx: projectModelOutline(fit, { spacingPx }).map(({ xPx, yPx }) => [xPx, yPx] as const),
    axisPx: [onAxis(0), onAxis(state.heightMm)],
    view: {
      camera: state.camera,
      cameraFromContainer: {
        rotation: multiplyMatrices(state.rotation, state.containerRotation),
        translationMm: cameraPoint(state, [0, 0, 0]),
      },
    },
  };
}

/** The profile's vertices, edges included, with the uncertainty of the radius there. */
function profilePoints({ model, solution, covariance }: ContainerFit): ProfilePoint[] {
  model.stateAt(solution.parameters);
  const { curve } = model;
  const shape = model.profileShape(solution.parameters);
  const gradient = new Float64Array(model.parameterCount);
  return Array.from({ length: curve.count }, (_, v) => {
    gradient.fill(0);
    traceVertex(curve, shape, v, 1, 0, (column, value) => {
      gradient[column] += value;
    });
    const variance = Math.max(quadraticForm(gradient, covariance, gradient), 0);
    return { zMm: curve.zMm[v], radiusMm: curve.radiusMm[v], sdMm: Math.sqrt(variance) };
  });
}
