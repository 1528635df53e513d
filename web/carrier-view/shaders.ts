/** Shaders in GLSL ES 3.0. All of them project alike, as vision/geometry/camera-ray.ts does, lens distortion included. */

const PROJECT = /* glsl */ `
uniform mat3 uRotation;
uniform vec3 uTranslation;
uniform vec4 uLens;      // focal length over half of width and height; centre in clip coordinates
uniform float uK1;
uniform vec2 uDepth;     // nearest and farthest
vec4 project(vec3 p) {
  vec3 c = uRotation * p + uTranslation;
  vec2 x = c.xy / c.z;
  x *= 1.0 + uK1 * dot(x, x);
  vec2 clip = vec2(uLens.x * x.x + uLens.z, -(uLens.y * x.y + uLens.w));
  float z = ((uDepth.y + uDepth.x) * c.z - 2.0 * uDepth.y * uDepth.x) / (uDepth.y - uDepth.x);
  return vec4(clip * c.z, z, c.z);
}
`;

const LIGHT = /* glsl */ `
uniform vec3 uKey;       // towards the light
uniform vec3 uKeyColour;
uniform vec3 uSky;
uniform vec3 uGround;
uniform vec3 uUp;
vec3 shown(vec3 c) {
  c = c / (1.0 + 0.18 * c);
  return pow(clamp(c, 0.0, 1.0), vec3(1.0 / 2.2));
}
`;

/** What is not drawn at all: below the table in a photo, and the far side where the container hides it. */
const LEFT_OUT = /* glsl */ `
uniform float uFloor;
uniform vec2 uSolid;     // widest radius and height of the container
uniform float uFarLeftOut;
bool isFar(vec3 p, float share) {
  vec2 sight = p.xy - uEye.xy;
  float passes = abs(uEye.x * sight.y - uEye.y * sight.x) / length(sight);
  return dot(sight, p.xy) > 0.0 && passes < uSolid.x * share && p.z > 0.0 && p.z < uSolid.y;
}
bool isLeftOut(vec3 p) {
  return p.z < uFloor || (uFarLeftOut > 0.5 && isFar(p, 0.93));
}
`;
const NOWHERE = 'vec4(2.0, 2.0, 2.0, 1.0)';

/**
 * Yarn as half tubes that always face the eye: two to four vertices across do for a round strand. Their middle line is bent
 * here from the shape and the stitch's own axes, so that the strand stays round however the fabric is stretched.
 */
export const YARN_VERTEX = /* glsl */ `
precision highp float;
in vec3 aCurve;
in vec3 aTangent;
in vec3 aStrand;         // along the strand in diameters, across it -1 to 1, light that reaches it
in vec3 iOrigin;
in vec3 iAlong;
in vec3 iUp;
in vec3 iOut;
uniform vec3 uEye;
uniform float uRadius;
uniform float uShape;    // 0: a chain, which lies along the work
out vec3 vFacing;
out vec3 vAside;
out vec3 vTangent;
out vec3 vOutward;
out vec3 vWorld;
out vec4 vStrand;        // as aStrand; a number of its own for the piece
out float vDepthOut;
out float vBehind;
${PROJECT}
${LEFT_OUT}
void main() {
  if (isLeftOut(iOrigin)) {
    gl_Position = ${NOWHERE};
    return;
  }
  vec3 middle = iOrigin + iAlong * aCurve.x + iUp * aCurve.y + iOut * aCurve.z;
  vec3 tangent = normalize(iAlong * aTangent.x + iUp * aTangent.y + iOut * aTangent.z);
  vec3 eye = normalize(uEye - middle);
  vec3 aside = normalize(cross(eye, tangent) + 1e-5 * iOut);
  vec3 facing = cross(tangent, aside);
  float v = aStrand.y;
  vec3 p = middle + uRadius * (v * aside + sqrt(max(0.0, 1.0 - v * v)) * facing);
  float number = fract(sin(dot(iOrigin, vec3(12.9898, 78.233, 37.719))) * 43758.5453);
  vFacing = facing;
  vAside = aside;
  vTangent = tangent;
  vOutward = normalize(iOut);
  vWorld = p;
  vStrand = vec4(aStrand.x + number * 7.0, v, aStrand.z, number);
  vDepthOut = aCurve.z;
  vBehind = isFar(iOrigin, 0.98) ? 1.0 : 0.0;
  gl_Position = project(p);
}
`;

/** With QUICK the twist is left out: for what moves under the hand. */
export const YARN_FRAGMENT = /* glsl */ `
precision highp float;
in vec3 vFacing;
in vec3 vAside;
in vec3 vTangent;
in vec3 vOutward;
in vec3 vWorld;
in vec4 vStrand;
in float vDepthOut;
in float vBehind;
uniform vec3 uEye;
uniform vec3 uColour;
uniform sampler2D uTwist;
uniform vec4 uBehind;    // colour that is laid over what lies behind the container, and how much
out vec4 colour;
${LIGHT}
void main() {
  float v = clamp(vStrand.y, -1.0, 1.0);
  vec3 n = normalize(v * vAside + sqrt(1.0 - v * v) * vFacing);
#ifdef QUICK
  vec4 twist = vec4(0.5, 0.5, 0.8, 0.5);
#else
  // the plies run round the strand: fixed to it, not to the eye
  vec3 side = cross(vTangent, vOutward);
  float round_ = atan(dot(n, side), dot(n, vOutward));
  vec4 twist = texture(uTwist, vec2(vStrand.x * 0.62 + round_ * 0.4775, vStrand.x * 0.21 - round_ * 0.1592));
  vec2 bump = twist.xy * 2.0 - 1.0;
  n = normalize(n + cross(vTangent, n) * bump.x * 0.75 + vTangent * bump.y * 0.6);
#endif
  float facing = clamp(dot(n, normalize(uEye - vWorld)), 0.0, 1.0);
  // contact darkening: deep in the fabric, in the grooves of the plies, and where strands cross
  float off = vDepthOut + 0.5 * dot(n, vOutward);
  float deep = mix(0.3, 1.0, smoothstep(-0.75, 0.85, off));
  float ao = deep * vStrand.z * mix(0.62, 1.0, twist.z);
  float wrap = clamp((dot(n, uKey) + 0.3) / 1.3, 0.0, 1.0);
  float fabric = clamp(dot(vOutward, uKey) * 0.55 + 0.6, 0.12, 1.0);
  vec3 light = uKeyColour * wrap * fabric * mix(ao, 1.0, 0.25) + mix(uGround, uSky, dot(n, uUp) * 0.5 + 0.5) * ao;
  vec3 own = uColour * (0.93 + 0.12 * vStrand.w) * mix(0.9, 1.06, twist.w);
  float fuzz = 1.0 - facing;
  fuzz *= fuzz * fuzz;
  vec3 c = own * light + (own * 0.5 + 0.05) * fuzz * (uSky + 0.4 * uKeyColour) * ao * 0.5;
  colour = vec4(shown(mix(c, uBehind.rgb, uBehind.a * vBehind)), 1.0);
}
`;

/** The soft shade that yarn throws on what it lies against: the strands again, wide, faint and pressed to the container. */
export const SHADE_VERTEX = /* glsl */ `
precision highp float;
in vec3 aCurve;
in vec3 aTangent;
in vec3 aStrand;
in vec3 iOrigin;
in vec3 iAlong;
in vec3 iUp;
in vec3 iOut;
uniform vec3 uEye;
uniform float uRadius;
uniform vec3 uKey;
out float vAcross;
${PROJECT}
${LEFT_OUT}
void main() {
  if (isLeftOut(iOrigin) || isFar(iOrigin, 2.0)) {
    gl_Position = ${NOWHERE};
    return;
  }
  vec3 middle = iOrigin + iAlong * aCurve.x + iUp * aCurve.y + iOut * aCurve.z;
  vec3 tangent = normalize(iAlong * aTangent.x + iUp * aTangent.y + iOut * aTangent.z);
  vec3 outward = normalize(iOut);
  // pressed down, and moved away from the light
  float over = length(iOut) * (aCurve.z + 0.95);
  vec3 along = uKey - outward * dot(uKey, outward);
  middle -= outward * over + along * over * 0.55;
  vec3 aside = normalize(cross(normalize(uEye - middle), tangent) + 1e-5 * iOut);
  vec3 p = middle + uRadius * 2.1 * aStrand.y * aside;
  vAcross = aStrand.y;
  gl_Position = project(p + normalize(uEye - p) * uRadius * 0.35);
}
`;

export const SHADE_FRAGMENT = /* glsl */ `
precision highp float;
in float vAcross;
uniform float uStrength;
out vec4 colour;
void main() {
  float soft = 1.0 - vAcross * vAcross;
  colour = vec4(0.0, 0.0, 0.0, uStrength * soft * soft);
}
`;

export const CONTAINER_VERTEX = /* glsl */ `
precision highp float;
in vec3 position;
in vec3 normal;
out vec3 vNormal;
out vec3 vWorld;
${PROJECT}
void main() {
  vNormal = normal;
  vWorld = position;
  gl_Position = project(position);
}
`;

/** Glass: dark at its edges, clear in the middle, with two windows mirrored in it. Anything else: a quiet satin. */
export const CONTAINER_FRAGMENT = /* glsl */ `
precision highp float;
in vec3 vNormal;
in vec3 vWorld;
uniform vec3 uEye;
uniform vec4 uTint;      // colour, and 1 for clear
uniform float uInside;
out vec4 colour;
${LIGHT}
float window(vec3 r, vec3 towards, float wide) {
  vec3 flat_ = normalize(r - uUp * dot(r, uUp));
  vec3 to = normalize(towards - uUp * dot(towards, uUp));
  float aside = dot(cross(flat_, to), uUp);
  float ahead = step(0.0, dot(flat_, to));
  float up = dot(r, uUp);
  return ahead * smoothstep(wide, wide * 0.55, abs(aside)) * smoothstep(-0.5, -0.3, up) * smoothstep(0.62, 0.45, up);
}
void main() {
  vec3 eye = normalize(uEye - vWorld);
  vec3 n = normalize(vNormal);
  if (dot(n, eye) < 0.0) n = -n;
  float facing = clamp(dot(n, eye), 0.0, 1.0);
  vec3 r = reflect(-eye, n);
  float mirrored = window(r, uKey, 0.2) + 0.45 * window(r, reflect(-uKey, cross(uUp, eye)) - uKey * 0.2, 0.12);
  if (uTint.a > 0.5) {
    float edge = pow(1.0 - facing, 2.2);
    float alpha = mix(0.05, 0.5, edge) + 0.02;
    vec3 glass = mix(uTint.rgb, uTint.rgb * 0.28, edge);
    float shine = mirrored * mix(0.45, 0.1, uInside);
    alpha = clamp(alpha * mix(1.0, 0.7, uInside) + shine, 0.0, 0.9);
    vec3 c = mix(shown(glass), vec3(1.0), shine / max(alpha, 0.01));
    colour = vec4(c * alpha, alpha);
  } else {
    float lit = clamp((dot(n, uKey) + 0.25) / 1.25, 0.0, 1.0);
    vec3 c = uTint.rgb * (uKeyColour * lit * 0.8 + mix(uGround, uSky, dot(n, uUp) * 0.5 + 0.5)) + mirrored * 0.22 + 0.12 * pow(1.0 - facing, 4.0);
    colour = vec4(shown(c), 1.0);
  }
}
`;

/** The shade on the table: darkest where the container stands. */
export const TABLE_FRAGMENT = /* glsl */ `
precision highp float;
in vec3 vNormal;
in vec3 vWorld;
uniform vec3 uKey;
uniform vec2 uFoot;      // radius of the foot and height of what stands on it
uniform float uStrength;
out vec4 colour;
void main() {
  vec2 p = vWorld.xy;
  float d = length(p) - uFoot.x;
  float contact = exp(-max(d, 0.0) / (0.16 * uFoot.x)) * 0.55;
  vec2 away = -normalize(uKey.xy + 1e-4) * 0.55 * uFoot.x;
  float thrown = smoothstep(1.9 * uFoot.x, 0.5 * uFoot.x, length((p - away) * vec2(1.0, 1.0))) * 0.32;
  float a = uStrength * clamp(contact + thrown, 0.0, 0.75) * smoothstep(3.0 * uFoot.x, 1.6 * uFoot.x, length(p));
  colour = vec4(0.0, 0.0, 0.0, a);
}
`;
