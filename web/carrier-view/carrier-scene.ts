import {
  AddEquation,
  BackSide,
  type BufferGeometry,
  Camera,
  CustomBlending,
  DoubleSide,
  FrontSide,
  GLSL3,
  type IUniform,
  Matrix3,
  Mesh,
  NoBlending,
  OneFactor,
  OneMinusSrcAlphaFactor,
  RawShaderMaterial,
  Scene,
  type Texture,
  Vector2,
  Vector3,
  Vector4,
  WebGLRenderer,
} from 'three';
import { meridianOf } from '../../sizing/body/meridian.ts';
import type { Container, Material } from '../../sizing/container.ts';
import type { CarrierGeometry } from '../../sizing/draw/carrier-geometry.ts';
import { type Vector3 as Point, unit } from '../../vision/geometry/linear3.ts';
import { type Section, tableTop, turnedSolid } from './container-mesh.ts';
import { depthRange, eyeOf, inContainer, type PictureView } from './projection.ts';
import * as glsl from './shaders.ts';
import { COARSE, type Detail, SPARSE, twistTexture, type YarnInstances, yarnInstances, yarnMesh } from './yarn-mesh.ts';

/** Light of a place, linear and over a middle grey of 1. */
export interface Light {
  /** Towards the key light, in the camera's frame (x right, y down, z away). */
  readonly towards: Point;
  readonly key: Point;
  readonly sky: Point;
  readonly ground: Point;
}

/** A window at the left, and a pale room. */
export const STAGE_LIGHT: Light = {
  towards: unit([-0.62, -0.6, -0.62]),
  key: [0.95, 0.92, 0.86],
  sky: [0.46, 0.49, 0.53],
  ground: [0.26, 0.24, 0.21],
};

/** What of the container is drawn: itself on the stage; nothing in a photo, where it only hides what is behind it. */
export type Setting =
  | { readonly place: 'stage' }
  /** `behind`: how much of the far side shows through, 0 to 1, and the photo's colour there. */
  | {
      readonly place: 'photo';
      readonly up: Point;
      readonly stands: boolean;
      readonly behind: number;
      readonly tint: Point;
    };

export interface Look {
  /** Yarn, linear red, green and blue. */
  readonly yarn: Point;
  readonly light: Light;
  readonly setting: Setting;
}

const CLEAR: readonly (Material | null)[] = ['glass', 'plastic', null];
const TINTS: Readonly<Record<Material | 'unknown', readonly [number, number, number, number]>> = {
  glass: [0.78, 0.86, 0.83, 1],
  plastic: [0.8, 0.84, 0.86, 1],
  unknown: [0.78, 0.86, 0.83, 1],
  'thin metal': [0.5, 0.52, 0.54, 0],
  'double-walled metal': [0.5, 0.52, 0.54, 0],
  ceramic: [0.72, 0.69, 0.63, 0],
  paper: [0.74, 0.68, 0.58, 0],
};

/** Draws one carrier on its container into a canvas. Everything it makes on the graphics card goes with `dispose`. */
export class CarrierScene {
  readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new Camera();
  private readonly twist: Texture = twistTexture();
  private readonly shared: Record<string, IUniform> = {
    uRotation: { value: new Matrix3() },
    uTranslation: { value: new Vector3() },
    uLens: { value: new Vector4() },
    uK1: { value: 0 },
    uDepth: { value: new Vector2() },
    uEye: { value: new Vector3() },
    uKey: { value: new Vector3() },
    uKeyColour: { value: new Vector3() },
    uSky: { value: new Vector3() },
    uGround: { value: new Vector3() },
    uUp: { value: new Vector3(0, 0, 1) },
    uRadius: { value: 1 },
    uFloor: { value: -1e6 },
    uColour: { value: new Vector3() },
    uBehind: { value: new Vector4() },
    uTwist: { value: this.twist },
    uTint: { value: new Vector4() },
    uFoot: { value: new Vector2() },
    uSolid: { value: new Vector2() },
    uFarLeftOut: { value: 0 },
  };
  private readonly materials = {
    yarn: this.material(glsl.YARN_VERTEX, glsl.YARN_FRAGMENT, {}),
    quick: this.material(glsl.YARN_VERTEX, `#define QUICK\n${glsl.YARN_FRAGMENT}`, {}),
    shade: this.material(glsl.SHADE_VERTEX, glsl.SHADE_FRAGMENT, { uStrength: { value: 0.2 } }, 'over'),
    solid: this.material(glsl.CONTAINER_VERTEX, glsl.CONTAINER_FRAGMENT, { uInside: { value: 0 } }),
    inside: this.material(glsl.CONTAINER_VERTEX, glsl.CONTAINER_FRAGMENT, { uInside: { value: 1 } }, 'over'),
    outside: this.material(glsl.CONTAINER_VERTEX, glsl.CONTAINER_FRAGMENT, { uInside: { value: 0 } }, 'over'),
    hidden: this.material(glsl.CONTAINER_VERTEX, glsl.CONTAINER_FRAGMENT, { uInside: { value: 0 } }),
    table: this.material(glsl.CONTAINER_VERTEX, glsl.TABLE_FRAGMENT, { uStrength: { value: 1 } }, 'over'),
  };
  private readonly geometries = new Set<BufferGeometry>();
  private readonly yarn = new Map<Detail, Mesh[]>();
  private instances: readonly YarnInstances[] = [];
  private of: Material | null = null;
  /** Closed fabric: through its gaps next to nothing of the far side is seen. */
  private isClosed = false;
  private middle: Point = [0, 0, 0];
  private radiusMm = 1;

  /** @throws Error when the browser has no WebGL 2 */
  constructor(canvas: HTMLCanvasElement, options: { readonly antialias: boolean; readonly keep?: boolean }) {
    this.renderer = new WebGLRenderer({
      canvas,
      antialias: options.antialias,
      alpha: true,
      premultipliedAlpha: true,
      preserveDrawingBuffer: options.keep ?? false,
      powerPreference: 'low-power',
    });
    this.renderer.setClearColor(0, 0);
    this.renderer.sortObjects = true;
    this.renderer.info.autoReset = true;
    this.materials.hidden.colorWrite = false;
    this.materials.inside.side = BackSide;
    this.materials.outside.side = FrontSide;
  }

  private material(
    vertexShader: string,
    fragmentShader: string,
    own: Record<string, IUniform>,
    blends?: 'over',
  ): RawShaderMaterial {
    return new RawShaderMaterial({
      glslVersion: GLSL3,
      vertexShader,
      fragmentShader,
      uniforms: { ...this.shared, ...own },
      side: DoubleSide,
      depthWrite: !blends,
      transparent: Boolean(blends),
      ...(blends
        ? {
            blending: CustomBlending,
            blendEquation: AddEquation,
            blendSrc: OneFactor,
            blendDst: OneMinusSrcAlphaFactor,
          }
        : { blending: NoBlending }),
    });
  }

  /**
   * Puts a carrier in place of the one before.
   * @param section  the container's half section from base to rim, when it is known better than the plan needs it
   */
  show(carrier: CarrierGeometry, container: Container, section: Section = sectionOf(container)): void {
    this.clear();
    this.of = container.material ?? null;
    const heightMm = section[section.length - 1][1];
    const topMm = Math.max(carrier.topMm, heightMm);
    this.middle = [0, 0, (topMm + carrier.bottomMm) / 2];
    this.radiusMm = Math.hypot((topMm - carrier.bottomMm) / 2, carrier.reachMm) * 1.2 + 20;
    const widestMm = Math.max(...section.map(([rMm]) => rMm));
    this.shared.uRadius.value = carrier.yarnDiameterMm / 2;
    this.shared.uTint.value.set(...TINTS[container.material ?? 'unknown']);
    this.shared.uFoot.value.set(Math.max(section[0][0], widestMm * 0.7, carrier.reachMm * 0.7), heightMm);
    this.shared.uSolid.value.set(widestMm, heightMm);
    const solid = turnedSolid(section, false);
    const glass = turnedSolid(section, true);
    const table = tableTop(carrier.bottomMm, 4 * Math.max(widestMm, carrier.reachMm));
    this.add(solid, this.materials.hidden, -1);
    this.add(solid, this.materials.solid, 0);
    this.add(glass, this.materials.inside, 3);
    this.add(glass, this.materials.outside, 4);
    this.add(table, this.materials.table, -2);
    this.instances = yarnInstances(carrier);
    this.isClosed = !carrier.stitches.some(({ part }) => part === 'mesh');
  }

  /** Yarn as finely as asked; made when it is first asked for. */
  private yarnAs(detail: Detail): void {
    let meshes = this.yarn.get(detail);
    if (!meshes) {
      meshes = this.instances.flatMap((instances) => {
        const geometry = yarnMesh(instances, detail);
        const { shade, quick, yarn } = this.materials;
        return [this.add(geometry, shade, 2), this.add(geometry, isQuick(detail) ? quick : yarn, 1)];
      });
      this.yarn.set(detail, meshes);
    }
    for (const [each, alike] of this.yarn) for (const mesh of alike) mesh.visible = each === detail;
  }

  private add(geometry: BufferGeometry, material: RawShaderMaterial, order: number): Mesh {
    this.geometries.add(geometry);
    const mesh = new Mesh(geometry, material);
    mesh.renderOrder = order;
    mesh.frustumCulled = false;
    mesh.matrixAutoUpdate = false;
    this.scene.add(mesh);
    return mesh;
  }

  /** Draws a frame. */
  render(view: PictureView, look: Look, detail: Detail): void {
    this.yarnAs(detail);
    const { camera, cameraFromContainer, widthPx, heightPx } = view;
    const u = this.shared;
    u.uRotation.value.set(...(cameraFromContainer.rotation as Parameters<Matrix3['set']>));
    u.uTranslation.value.set(...cameraFromContainer.translationMm);
    u.uLens.value.set(
      (2 * camera.focalPx) / widthPx,
      (2 * camera.focalPx) / heightPx,
      (2 * (camera.centreXPx + 0.5)) / widthPx - 1,
      (2 * (camera.centreYPx + 0.5)) / heightPx - 1,
    );
    u.uK1.value = camera.k1;
    u.uDepth.value.set(...depthRange(view, this.middle, this.radiusMm));
    u.uEye.value.set(...eyeOf(view));
    const { light, setting, yarn } = look;
    u.uKey.value.set(...inContainer(view, light.towards));
    u.uKeyColour.value.set(...light.key);
    u.uSky.value.set(...light.sky);
    u.uGround.value.set(...light.ground);
    u.uColour.value.set(...yarn);
    const isStage = setting.place === 'stage';
    u.uUp.value.set(...(isStage ? ([0, 0, 1] as const) : setting.up));
    u.uFloor.value = !isStage && setting.stands ? -1.5 : -1e6;
    const behind = isStage ? [0.62, 0.66, 0.64, 0.3] : [...setting.tint, 1 - setting.behind];
    u.uBehind.value.set(behind[0], behind[1], behind[2], behind[3]);
    const isClear = CLEAR.includes(this.of);
    if (isStage && !isClear) u.uBehind.value.w = 0;
    const seesFar = isStage ? isClear && !(isQuick(detail) && this.isClosed) : setting.behind > 0;
    u.uFarLeftOut.value = seesFar ? 0 : 1;
    this.materials.hidden.visible = !isStage && setting.behind <= 0;
    this.materials.solid.visible = isStage && !isClear;
    this.materials.inside.visible = isStage && isClear;
    this.materials.outside.visible = isStage && isClear;
    this.materials.table.visible = isStage;
    this.materials.shade.visible = !isStage || !isClear;
    this.renderer.render(this.scene, this.camera);
  }

  private clear(): void {
    this.scene.clear();
    for (const geometry of this.geometries) geometry.dispose();
    this.geometries.clear();
    this.yarn.clear();
    this.instances = [];
  }

  dispose(): void {
    this.clear();
    for (const material of Object.values(this.materials)) material.dispose();
    this.twist.dispose();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  }
}

function isQuick(detail: Detail): boolean {
  return detail === COARSE || detail === SPARSE;
}

/** The container's half section from the edge of its base to its rim. */
export function sectionOf(container: Container): Section {
  const { points } = meridianOf(container);
  return points.slice(1).map(({ rMm, zMm }) => [rMm, zMm] as const);
}
