import { SCENE_HEIGHT, SCENE_WIDTH, SCENES, type SceneName, type Shape } from './scenes.ts';

/** One way to take the photo, or to spoil it, in the page's own colours. The words beside it say the same. */
export function SceneDrawing({ name }: { readonly name: SceneName }) {
  const shapes: readonly Shape[] = SCENES[name];
  return (
    <svg viewBox={`0 0 ${SCENE_WIDTH} ${SCENE_HEIGHT}`} className="drawing-scene" aria-hidden="true">
      {shapes.map(({ look, d, width, at }, k) => (
        <path
          // biome-ignore lint/suspicious/noArrayIndexKey: a drawing never changes
          key={k}
          className={`draw-${look}`}
          d={d}
          strokeWidth={width}
          transform={
            at && `translate(${at.x} ${at.y})${at.turned ? ' rotate(90)' : ''}${at.scale ? ` scale(${at.scale})` : ''}`
          }
        />
      ))}
    </svg>
  );
}
