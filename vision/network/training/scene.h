// Draws one random scene from a seed: container, card, camera, ground, clutter, light, and the truth that goes with it.
#pragma once
#include "trace.h"

constexpr float NO_WALL = 1e5f;  // a wall further away than this is none
constexpr float CARD_W = 85.60f, CARD_H = 53.98f, CARD_T = 0.76f, CARD_CORNER = 3.18f;
enum { STANDING, LYING, ON_FRONT, LEANING };

// ---------------------------------------------------------------- colours and paints

HD V hsv(float h, float s, float v) {
  float k[3];
  for (int i = 0; i < 3; i++) {
    float x = fract(h + (i == 0 ? 0.f : i == 1 ? 2.f / 3 : 1.f / 3)) * 6.f - 3.f;
    k[i] = v * (1.f - s + s * clampf(fabsf(x) - 1.f, 0.f, 1.f));
  }
  return {k[0], k[1], k[2]};
}
HD V any_colour(Rng& g) {
  float u = rnd(g);
  if (u < 0.16f) { float k = rnd(g, 0.6f, 0.9f); return V{k, k * rnd(g, 0.94f, 1.f), k * rnd(g, 0.86f, 1.02f)}; }
  if (u < 0.27f) { float k = rnd(g, 0.012f, 0.07f); return V{k, k, k * rnd(g, 0.9f, 1.3f)}; }
  if (u < 0.38f) { float k = rnd(g, 0.08f, 0.6f); return V{k, k * rnd(g, 0.92f, 1.05f), k * rnd(g, 0.85f, 1.1f)}; }
  return hsv(rnd(g), powf(rnd(g), 0.6f) * 0.95f, powf(rnd(g), 1.3f) * 0.8f + 0.05f);
}
HD V wood_tone(Rng& g) {
  float v = rnd(g, 0.06f, 0.55f);
  return hsv(rnd(g, 0.04f, 0.12f), rnd(g, 0.3f, 0.75f), v);
}
HD Paint plain(V c, float rough = 0.6f, float coat = 0.3f) {
  Paint p = {};
  p.a = p.b = p.c = c;
  p.pattern = PLAIN;
  p.scale = 1.f;
  p.rough = rough;
  p.coat = coat;
  return p;
}
HD Paint any_paint(Rng& g) {
  Paint p = plain(any_colour(g), rnd(g, 0.02f, 0.6f), chance(g, 0.6f) ? rnd(g) : 0.f);
  p.b = any_colour(g);
  p.c = any_colour(g);
  p.seed = hash_u32(g.state);
  return p;
}
HD Paint ground_paint(Rng& g) {
  Paint p = any_paint(g);
  float u = rnd(g);
  p.scale = expf(rnd(g, -0.8f, 0.9f));
  p.coat = chance(g, 0.55f) ? rnd(g) : 0.f;
  p.rough = chance(g, 0.3f) ? rnd(g, 0.02f, 0.2f) : rnd(g, 0.2f, 0.7f);
  if (u < 0.30f) {
    p.pattern = WOOD;
    p.a = wood_tone(g);
    p.b = p.a * rnd(g, 0.35f, 0.85f);
    if (chance(g, 0.15f)) p.a = p.b * rnd(g, 1.f, 1.6f);
  } else if (u < 0.45f) {
    p.pattern = LINEN;
    if (chance(g, 0.65f)) { float k = rnd(g, 0.15f, 0.8f); p.a = V{k, k * rnd(g, 0.9f, 1.f), k * rnd(g, 0.75f, 1.05f)}; }
    p.b = p.a * rnd(g, 0.6f, 0.9f);
    p.coat = 0;
  } else if (u < 0.70f) {
    p.pattern = chance(g, 0.5f) ? PLAIN : MOTTLED;
    float k = chance(g, 0.6f) ? rnd(g, 0.45f, 0.9f) : rnd(g, 0.01f, 0.12f);
    p.a = V{k, k * rnd(g, 0.94f, 1.02f), k * rnd(g, 0.86f, 1.05f)};
    p.b = p.a * rnd(g, 0.8f, 0.97f);
  } else if (u < 0.77f) {
    p.pattern = CHECKS;
    p.coat = 0;
    p.scale *= 0.7f;
    if (chance(g, 0.6f)) p.b = V{0.75f, 0.75f, 0.72f};
  } else if (u < 0.84f) {
    p.pattern = GRID;
    if (chance(g, 0.6f)) p.a = V{0.02f, rnd(g, 0.05f, 0.25f), rnd(g, 0.04f, 0.15f)};
    p.b = mix(p.a, V{0.8f, 0.8f, 0.6f}, rnd(g, 0.2f, 0.9f));
    p.scale = rnd(g, 0.6f, 2.6f);
  } else if (u < 0.88f) {
    p.pattern = MARBLE;
    float k = chance(g, 0.7f) ? rnd(g, 0.5f, 0.85f) : rnd(g, 0.02f, 0.2f);
    p.a = V{k, k, k * 0.97f};
    p.b = k > 0.4f ? p.a * rnd(g, 0.3f, 0.7f) : p.a * 4.f;
  } else if (u < 0.92f) {
    p.pattern = chance(g, 0.5f) ? TERRAZZO : DOTS;
  } else if (u < 0.95f) {
    p.pattern = STRIPES;
    p.coat = 0;
  } else if (u < 0.965f) {
    p.pattern = FLORAL;
    p.coat = 0;
  } else if (u < 0.98f) {  // grass, gravel, sand
    p.pattern = GRAINS;
    p.coat = 0;
    p.a = hsv(chance(g, 0.5f) ? rnd(g, 0.17f, 0.36f) : rnd(g, 0.05f, 0.12f), rnd(g, 0.1f, 0.8f), rnd(g, 0.1f, 0.5f));
    p.b = p.a * rnd(g, 0.15f, 0.5f);
    p.c = p.a * rnd(g, 1.2f, 1.8f);
  } else if (u < 0.988f) {  // a newspaper
    p.pattern = PAPER;
    p.coat = 0;
    p.a = V{0.7f, 0.68f, 0.62f};
    p.b = V{0.08f, 0.08f, 0.09f};
    p.seed = 3 * (p.seed / 3) + 1;
    p.sizeU = p.sizeV = 4000.f;
  } else {
    p.pattern = BRICKS;
    p.b = p.a * rnd(g, 0.4f, 1.4f);
  }
  if (p.coat == 0 && chance(g, 0.4f)) p.folds = rnd(g, 0.1f, 0.5f);
  return p;
}
HD Paint wall_paint(Rng& g) {
  Paint p = any_paint(g);
  p.coat = 0;
  float u = rnd(g);
  float k = rnd(g, 0.08f, 0.85f);
  V soft = V{k, k * rnd(g, 0.88f, 1.06f), k * rnd(g, 0.8f, 1.12f)};
  p.pattern = PLAIN;
  if (u < 0.72f) p.a = soft;
  if (u < 0.35f) { p.pattern = MOTTLED; p.b = p.a * 0.9f; }
  if (u > 0.72f && u < 0.84f) { p.pattern = BRICKS; p.b = soft; p.scale = rnd(g, 0.6f, 2.f); }
  if (u > 0.84f && u < 0.90f) { p.pattern = STRIPES; p.scale = rnd(g, 1.f, 6.f); }
  if (u > 0.90f && u < 0.95f) { p.pattern = FLORAL; p.scale = rnd(g, 1.f, 4.f); }
  if (u < 0.10f) { p.pattern = ROOM; p.a = soft; p.scale = expf(rnd(g, -1.5f, 1.f)); }
  if (u > 0.95f) { p.pattern = WOOD; p.a = wood_tone(g); p.b = p.a * 0.7f; p.scale = 1.5f; }
  return p;
}
HD Paint card_paint(Rng& g) {
  Paint p = any_paint(g);
  p.sizeU = CARD_W;
  p.sizeV = CARD_H;
  p.coat = chance(g, 0.7f) ? 1.f : 0.3f;
  p.rough = rnd(g, 0.02f, 0.35f);
  float u = rnd(g);
  if (u < 0.22f) {
    p.pattern = CARD_PLAIN;
    if (chance(g, 0.7f)) { float k = rnd(g, 0.55f, 0.9f); p.a = V{k, k, k * rnd(g, 0.94f, 1.03f)}; }
  } else if (u < 0.52f) {
    p.pattern = CARD_BANK;
    if (chance(g, 0.3f)) { float k = rnd(g, 0.01f, 0.06f); p.a = V{k, k, k}; p.b = p.a * rnd(g, 0.7f, 1.6f); }
    else if (chance(g, 0.6f)) p.b = p.a * rnd(g, 0.3f, 1.2f);
    p.c = chance(g, 0.7f) ? V{0.85f, 0.85f, 0.85f} : V{0.6f, 0.5f, 0.2f};
  } else if (u < 0.66f) {
    p.pattern = CARD_STRIPE;
    if (chance(g, 0.7f)) { float k = rnd(g, 0.5f, 0.85f); p.a = V{k, k, k * 0.95f}; }
    if (chance(g, 0.7f)) p.b = V{0.12f, 0.1f, 0.09f};
  } else if (u < 0.76f) p.pattern = CARD_PHOTO;
  else if (u < 0.85f) p.pattern = CARD_LINES;
  else if (u < 0.93f) p.pattern = CARD_SHAPES;
  else {
    p.pattern = CARD_IDENTITY;
    if (chance(g, 0.7f)) { float k = rnd(g, 0.55f, 0.85f); p.a = V{k, k, k}; }
  }
  return p;
}

// ---------------------------------------------------------------- container

struct Corner {
  float z, r, fillet;
  int paint;  // of the edge that ends here
};
struct Outline {
  Corner c[20];
  int n;
};
HD void add(Outline& o, float z, float r, float fillet, int paint) {
  if (o.n < 20) o.c[o.n++] = {z, r, fillet, paint};
}

// Control polygon with filleted corners to cone frusta with smooth normals.
HD void build_surface(Solid& s, const Outline& o) {
  float z[MAX_SEGMENTS + 1], r[MAX_SEGMENTS + 1];
  int paint[MAX_SEGMENTS + 1];
  int n = 0;
  for (int i = 0; i < o.n; i++) {
    const Corner& c = o.c[i];
    if (i == 0 || i == o.n - 1 || c.fillet < 0.25f || n > MAX_SEGMENTS - 10) {
      z[n] = c.z; r[n] = c.r; paint[n++] = c.paint;
      continue;
    }
    const Corner &a = o.c[i - 1], &b = o.c[i + 1];
    float la = hypotf(a.z - c.z, a.r - c.r), lb = hypotf(b.z - c.z, b.r - c.r);
    float f = fminf(c.fillet, fminf(0.48f * la, 0.48f * lb));
    float az = c.z + (a.z - c.z) * f / la, ar = c.r + (a.r - c.r) * f / la;
    float bz = c.z + (b.z - c.z) * f / lb, br = c.r + (b.r - c.r) * f / lb;
    int k = f < 1.2f ? 1 : f < 4.f ? 3 : 5;
    for (int j = 0; j <= k; j++) {
      float t = (float)j / k, p = (1 - t) * (1 - t), q = 2 * t * (1 - t), w = t * t;
      z[n] = p * az + q * c.z + w * bz;
      r[n] = fmaxf(0.f, p * ar + q * c.r + w * br);
      paint[n++] = t > 0.5f ? b.paint : c.paint;
    }
  }
  s.segments = 0;
  s.height = 0;
  s.max_radius = 0;
  s.base_radius = 0;
  for (int i = 0; i < o.n; i++)
    if (o.c[i].z < 0.01f) s.base_radius = fmaxf(s.base_radius, o.c[i].r);
  for (int i = 0; i + 1 < n; i++) {
    float dz = z[i + 1] - z[i], dr = r[i + 1] - r[i], l = hypotf(dz, dr);
    if (l < 1e-3f) continue;
    Segment& g = s.segment[s.segments++];
    g = {z[i], r[i], z[i + 1], r[i + 1], -dr / l, dz / l, -dr / l, dz / l, paint[i + 1]};
    s.height = fmaxf(s.height, fmaxf(z[i], z[i + 1]));
    s.max_radius = fmaxf(s.max_radius, fmaxf(r[i], r[i + 1]));
  }
  for (int i = 0; i + 1 < s.segments; i++) {
    Segment &g = s.segment[i], &h = s.segment[i + 1];
    float c = g.nz1 * h.nz0 + g.nr1 * h.nr0;
    if (c > 0.76f) {
      float nz = g.nz1 + h.nz0, nr = g.nr1 + h.nr0, l = hypotf(nz, nr);
      g.nz1 = h.nz0 = nz / l;
      g.nr1 = h.nr0 = nr / l;
    }
  }
}

HD void add_cap(Outline& o, Rng& g, float z, float neck, float body) {
  int kind = pick(g, 6);
  float r = clampf(neck * rnd(g, 1.02f, 1.35f), 6.f, fmaxf(body * 1.02f, 6.5f)), h = rnd(g, 10.f, 45.f), e = rnd(g, 0.3f, 3.f);
  if (chance(g, 0.35f)) r = clampf(body * rnd(g, 0.75f, 1.02f), neck * 0.9f, 80.f);
  int top = chance(g, 0.3f) ? ACCENT : CAP;
  if (chance(g, 0.7f)) add(o, z, r, 0.3f, CAP);
  else { add(o, z, r * 1.06f, 0.3f, CAP); add(o, z + 3.f, r * 1.06f, 0.5f, CAP); add(o, z + 3.2f, r, 0.3f, CAP); }
  switch (kind) {
    case 0: case 1:  // screw cap
      add(o, z + h, r * rnd(g, 0.93f, 1.f), e, CAP);
      add(o, z + h + rnd(g, 0.f, 2.f), 0, 0, top);
      break;
    case 2: {  // drinking spout
      float r2 = r * rnd(g, 0.35f, 0.7f), h2 = rnd(g, 6.f, 22.f);
      add(o, z + 0.5f * h, r, e, CAP);
      add(o, z + 0.5f * h + rnd(g, 0.f, 12.f), r2, 1.5f, CAP);
      add(o, z + 0.5f * h + 12.f + h2, r2 * rnd(g, 0.8f, 1.f), 2.f, top);
      add(o, z + 0.5f * h + 12.5f + h2, 0, 0, top);
      break;
    }
    case 3:  // dome
      add(o, z + 0.4f * h, r, 10.f, CAP);
      add(o, z + h, r * rnd(g, 0.4f, 0.8f), 8.f, CAP);
      add(o, z + h + 1.f, 0, 0, top);
      break;
    case 4:  // flat lid
      add(o, z + rnd(g, 6.f, 18.f), r, e, CAP);
      add(o, z + 19.f, r * 0.97f, e, CAP);
      add(o, z + 19.1f, 0, 0, top);
      break;
    default:  // tapered, long
      add(o, z + 1.5f * h, r * rnd(g, 0.7f, 0.95f), e + 1.f, CAP);
      add(o, z + 1.5f * h + 1.f, 0, 0, top);
  }
}
HD void add_opening(Outline& o, Rng& g, float z, float r, float base_r, float base_z) {
  float wall = rnd(g, 0.6f, 4.f);
  add(o, z, r, 0.4f * wall, BODY);
  add(o, z, fmaxf(r - wall, 3.f), 0.4f * wall, ACCENT);
  float level = chance(g, 0.5f) ? rnd(g, 0.3f, 0.95f) : 0.04f;
  float zl = base_z + level * (z - base_z);
  float rl = fmaxf(base_r + (r - base_r) * level - wall, 2.f);
  add(o, zl, rl, level < 0.1f ? 3.f : 0.f, INNER);
  add(o, zl, 0, 0, level < 0.1f ? INNER : LABEL);
}

// @returns whether it should have a handle
HD bool make_container(Solid& s, Rng& g, bool lies) {
  Outline o;
  o.n = 0;
  // Which end of a tumbler that lies down is its base, only the taper tells.
  int kind = lies && chance(g, 0.2f) ? 2 : pick(g, 18);
  s.kind = kind;
  float R = rnd(g, 26.f, 48.f), e = chance(g, 0.5f) ? rnd(g, 0.5f, 3.f) : rnd(g, 2.f, 7.f), H, shoulder = 0, neck = 0;
  bool handle = false;
  float lz1;
  add(o, 0, 0, 0, BODY);
  switch (kind) {
    case 0: case 1: {  // can, tin
      H = rnd(g, 60.f, 190.f);
      R = rnd(g, 24.f, 55.f);
      float in = chance(g, 0.5f) ? rnd(g, 0.82f, 0.97f) : 1.f;
      int rim = chance(g, 0.6f) ? ACCENT : BODY;
      if (in < 1.f) add(o, 0, R * in, 1.f, rim);
      add(o, in < 1.f ? rnd(g, 4.f, 9.f) : 0, R, e, in < 1.f ? rim : BODY);
      float zc = H * rnd(g, 0.72f, 0.97f);
      lz1 = zc;
      if (chance(g, 0.5f)) {  // separate lid, as wide or a little wider
        float r2 = R * rnd(g, 0.98f, 1.06f);
        add(o, zc, R, 0, BODY);
        add(o, zc, r2, 0.3f, CAP);
        add(o, H, r2, e, CAP);
        add(o, H, 0, 0, chance(g, 0.5f) ? CAP : ACCENT);
      } else {
        add(o, H - 6.f, R, 1.5f, BODY);
        add(o, H, R * in, 0.5f, rim);
        add(o, H, R * in - 2.f, 0.3f, rim);
        add(o, H - 2.f, R * in - 2.5f, 0.3f, rim);
        add(o, H - 2.f, 0, 0, rim);
      }
      break;
    }
    case 2: case 3: {  // tumbler, cup to go
      H = rnd(g, 80.f, 200.f);
      R = rnd(g, 22.f, 40.f);
      float top = R * rnd(g, 1.02f, 1.5f);
      add(o, 0, R, e, BODY);
      lz1 = 0.85f * H;
      if (chance(g, lies ? 0.3f : 0.55f)) {
        float r2 = top * rnd(g, 1.f, 1.07f), h2 = rnd(g, 3.f, 12.f);
        add(o, H - h2, top * 0.995f, 0, BODY);
        add(o, H - h2, r2, 0.3f, CAP);
        add(o, H - 0.2f * h2, r2, 1.f, CAP);
        if (chance(g, 0.6f)) { add(o, H, r2 * 0.9f, 1.5f, CAP); add(o, H + rnd(g, 0.f, 12.f), r2 * rnd(g, 0.7f, 0.88f), 2.f, CAP); }
        add(o, o.c[o.n - 1].z + 0.3f, 0, 0, CAP);
      } else add_opening(o, g, H, top, R, 3.f);
      break;
    }
    case 4: case 5: {  // jar
      R = rnd(g, 26.f, 55.f);
      H = rnd(g, 45.f, 160.f);
      float neck_r = R * rnd(g, 0.72f, 0.97f), zs = H * rnd(g, 0.8f, 0.95f);
      add(o, 0, R * rnd(g, 0.9f, 1.f), e + 1.f, BODY);
      if (chance(g, 0.4f)) add(o, e + 6.f, R, 4.f, BODY);
      add(o, zs, R * rnd(g, 0.96f, 1.f), rnd(g, 2.f, 18.f), BODY);
      float zn = zs + rnd(g, 2.f, 12.f);
      add(o, zn, neck_r, 2.f, BODY);
      add(o, zn + 2.f, neck_r, 0, BODY);
      float lid = neck_r * rnd(g, 1.02f, 1.12f), lh = rnd(g, 8.f, 24.f);
      add(o, zn + 2.f, lid, 0.3f, CAP);
      add(o, zn + 2.f + lh, lid, rnd(g, 0.4f, 3.f), CAP);
      add(o, zn + 2.3f + lh, 0, 0, chance(g, 0.4f) ? ACCENT : CAP);
      lz1 = zs - 4.f;
      break;
    }
    case 6: case 7: case 8: {  // sport bottle, steel flask
      H = rnd(g, 120.f, 250.f);
      R = rnd(g, 26.f, 45.f);
      neck = R * rnd(g, 0.4f, 0.85f);
      shoulder = H * rnd(g, 0.6f, 0.85f);
      add(o, 0, R * rnd(g, 0.92f, 1.f), e, BODY);
      if (chance(g, 0.25f)) { add(o, 0.3f * H, R, 20.f, BODY); add(o, 0.45f * H, R * rnd(g, 0.84f, 0.97f), 20.f, BODY); }
      add(o, shoulder, R, rnd(g, 3.f, 40.f), BODY);
      float zn = shoulder + rnd(g, 5.f, 0.25f * H);
      add(o, zn, neck, rnd(g, 0.f, 12.f), BODY);
      if (chance(g, 0.5f)) add(o, zn + rnd(g, 2.f, 14.f), neck, 0, chance(g, 0.5f) ? ACCENT : BODY);
      add_cap(o, g, o.c[o.n - 1].z, neck, R);
      lz1 = shoulder - 8.f;
      break;
    }
    case 9: {  // long-necked bottle
      H = rnd(g, 170.f, 290.f);
      R = rnd(g, 28.f, 42.f);
      neck = rnd(g, 11.f, 16.f);
      shoulder = H * rnd(g, 0.45f, 0.68f);
      add(o, 0, R, e + 1.f, BODY);
      add(o, shoulder, R, rnd(g, 15.f, 45.f), BODY);
      float zn = shoulder + rnd(g, 0.1f, 0.22f) * H;
      add(o, zn, neck, rnd(g, 8.f, 40.f), BODY);
      add(o, H * 0.93f, neck * 0.95f, 0, BODY);
      add(o, H * 0.93f, neck * 1.12f, 0.4f, ACCENT);
      add(o, H * 0.95f, neck * 1.12f, 0.4f, ACCENT);
      add(o, H * 0.95f, neck * 1.02f, 0.3f, CAP);
      add(o, H, neck, 0.8f, CAP);
      add(o, H, 0, 0, CAP);
      lz1 = shoulder - 6.f;
      break;
    }
    case 10: {  // mug, bowl, beaker
      H = rnd(g, 40.f, 120.f);
      R = rnd(g, 26.f, 52.f);
      float top = R * (chance(g, 0.6f) ? rnd(g, 0.95f, 1.25f) : rnd(g, 1.2f, 1.5f));
      add(o, 0, R * rnd(g, 0.6f, 1.f), e + 2.f, BODY);
      add(o, H * rnd(g, 0.1f, 0.4f), R, rnd(g, 3.f, 30.f), BODY);
      add_opening(o, g, H, top, R, 5.f);
      handle = chance(g, 0.7f);
      lz1 = 0.8f * H;
      break;
    }
    case 11: {  // vial, dropper, small bottle
      H = rnd(g, 45.f, 110.f);
      R = rnd(g, 10.f, 30.f);
      neck = R * rnd(g, 0.45f, 0.9f);
      shoulder = H * rnd(g, 0.5f, 0.8f);
      add(o, 0, R, 0.5f * e, BODY);
      add(o, shoulder, R, rnd(g, 2.f, 14.f), BODY);
      add(o, shoulder + rnd(g, 2.f, 12.f), neck, rnd(g, 0.f, 6.f), BODY);
      add_cap(o, g, o.c[o.n - 1].z + 1.f, neck, R);
      lz1 = shoulder - 3.f;
      break;
    }
    case 12: {  // waisted
      H = rnd(g, 110.f, 240.f);
      R = rnd(g, 28.f, 45.f);
      add(o, 0, R * rnd(g, 0.85f, 1.f), e + 1.f, BODY);
      add(o, 0.2f * H, R, 25.f, BODY);
      add(o, H * rnd(g, 0.38f, 0.5f), R * rnd(g, 0.68f, 0.93f), 35.f, BODY);
      add(o, 0.68f * H, R * rnd(g, 0.88f, 1.05f), 30.f, BODY);
      neck = R * rnd(g, 0.4f, 0.8f);
      add(o, 0.85f * H, neck, 10.f, BODY);
      add_cap(o, g, 0.85f * H + 2.f, neck, R);
      lz1 = 0.7f * H;
      break;
    }
    case 14: {  // stemless glass, goblet without foot: the base is hidden from above
      H = rnd(g, 70.f, 125.f);
      R = rnd(g, 34.f, 52.f);
      add(o, 0, R * rnd(g, 0.45f, 0.75f), e + 1.f, BODY);
      add(o, H * rnd(g, 0.25f, 0.5f), R, rnd(g, 15.f, 40.f), BODY);
      add_opening(o, g, H, R * rnd(g, 0.68f, 1.f), R, 5.f);
      lz1 = 0.7f * H;
      break;
    }
    case 15: {  // footed glass
      H = rnd(g, 110.f, 230.f);
      R = rnd(g, 26.f, 48.f);
      float foot = R * rnd(g, 0.7f, 1.05f), stem = rnd(g, 4.f, 9.f), zs = H * rnd(g, 0.12f, 0.48f);
      add(o, 0, foot, 0.8f, BODY);
      add(o, rnd(g, 1.5f, 4.f), foot * 0.96f, 1.5f, BODY);
      add(o, 7.f, stem, 4.f, BODY);
      add(o, zs, stem, 6.f, BODY);
      add(o, zs + (H - zs) * rnd(g, 0.25f, 0.55f), R, rnd(g, 10.f, 35.f), BODY);
      add_opening(o, g, H, R * rnd(g, 0.7f, 1.1f), R, zs + 6.f);
      lz1 = H;
      break;
    }
    case 16: {  // carafe, vase, flacon: wide below, narrow, then wider or stoppered
      H = rnd(g, 80.f, 280.f);
      R = clampf(H * rnd(g, 0.2f, 0.35f), 20.f, 60.f);
      add(o, 0, R * rnd(g, 0.75f, 1.f), e + 1.f, BODY);
      add(o, H * rnd(g, 0.15f, 0.35f), R, rnd(g, 8.f, 40.f), BODY);
      neck = R * rnd(g, 0.28f, 0.6f);
      add(o, H * rnd(g, 0.6f, 0.78f), neck, rnd(g, 15.f, 50.f), BODY);
      if (chance(g, 0.6f)) add_opening(o, g, H, neck * rnd(g, 1.f, 1.7f), R, 5.f);
      else { add(o, 0.85f * H, neck, 3.f, BODY); add_cap(o, g, 0.85f * H, neck, R); }
      lz1 = 0.5f * H;
      break;
    }
    default: {  // free form
      H = rnd(g, 70.f, 220.f);
      int n = 3 + pick(g, 3);
      float last = R;
      for (int i = 0; i < n; i++) {
        last = clampf(last * expf(0.22f * normal(g)), 16.f, 55.f);
        add(o, H * i / n, last, i ? rnd(g, 5.f, 30.f) : e, BODY);
      }
      neck = last * rnd(g, 0.6f, 1.f);
      add(o, H, neck, 0.5f, BODY);
      if (chance(g, 0.6f)) add_cap(o, g, H, neck, last);
      else add_opening(o, g, H + 6.f, neck * rnd(g, 0.9f, 1.1f), last, 4.f);
      lz1 = 0.7f * H;
    }
  }
  build_surface(s, o);

  float body_top = lz1;
  // materials
  Paint& b = s.paint[BODY];
  b = any_paint(g);
  float u = rnd(g);
  b.pattern = PLAIN;
  if (u < (lies ? 0.32f : 0.27f)) {  // steel, copper, aluminium
    b.metal = rnd(g, 0.75f, 1.f);
    float k = rnd(g, 0.4f, 0.95f);
    b.a = chance(g, 0.8f) ? V{k, k, k} : hsv(rnd(g, 0.02f, 0.14f), rnd(g, 0.2f, 0.6f), 0.85f);
    if (chance(g, 0.2f)) b.a = any_colour(g);
    b.rough = chance(g, 0.4f) ? rnd(g, 0.f, 0.03f) : chance(g, 0.4f) ? rnd(g, 0.03f, 0.15f) : rnd(g, 0.15f, 0.5f);
  } else if (u < (lies ? 0.55f : kind >= 14 && kind <= 16 ? 0.9f : 0.49f)) {  // glass and clear plastic
    b.clear = rnd(g, 0.75f, 1.f);
    b.a = chance(g, 0.6f) ? V{rnd(g, 0.85f, 1.f), rnd(g, 0.9f, 1.f), rnd(g, 0.88f, 1.f)} : hsv(rnd(g), rnd(g, 0.1f, 0.8f), rnd(g, 0.4f, 0.9f));
    b.rough = chance(g, 0.75f) ? 0.01f : rnd(g, 0.1f, 0.5f);
    b.coat = 1.f;
  } else if (u < 0.58f) {  // milky plastic
    b.clear = rnd(g, 0.2f, 0.6f);
    b.rough = rnd(g, 0.2f, 0.8f);
    b.coat = 0.5f;
  } else if (u < 0.68f) {
    int k = pick(g, 6);
    b.pattern = k == 0 ? MOTTLED : k == 1 ? BANDS : k == 2 ? DOTS : k == 3 ? GRADIENT : k == 4 ? STRIPES : FLORAL;
    b.scale = expf(rnd(g, -0.7f, 1.f));
    b.sizeV = s.height;
    b.coat = rnd(g);
    if (k == 0) b.b = b.a * rnd(g, 0.6f, 0.95f);
  } else b.coat = chance(g, 0.7f) ? 1.f : 0.f;
  for (int i = CAP; i < CONTAINER_PAINTS; i++) {
    Paint& c = s.paint[i];
    c = any_paint(g);
    if (chance(g, i == ACCENT ? 0.6f : 0.3f)) {
      c.metal = 0.9f;
      float k = rnd(g, 0.4f, 0.9f);
      c.a = chance(g, 0.7f) ? V{k, k, k} : V{0.8f, 0.65f, 0.3f};
      c.rough = chance(g, 0.4f) ? rnd(g, 0.f, 0.04f) : rnd(g, 0.04f, 0.4f);
    }
    if (chance(g, lies ? 0.25f : 0.12f) && i <= ACCENT) { c.a = b.a; c.metal = b.metal; c.rough = b.rough; }
  }
  if (chance(g, 0.5f)) s.paint[INNER] = plain(chance(g, 0.5f) ? V{0.8f, 0.8f, 0.78f} : b.a, 0.3f, 0.8f);
  if (b.clear > 0.5f && chance(g, 0.7f)) s.paint[INNER] = s.paint[ACCENT] = b;
  s.label_z0 = s.label_z1 = -1.f;
  s.label_az0 = -4.f;
  s.label_az1 = 4.f;
  Paint& l = s.paint[LABEL];
  if (chance(g, kind >= 14 && kind <= 16 ? 0.1f : 0.55f)) {
    l.pattern = PRINT;
    float z0 = body_top * rnd(g, 0.05f, 0.35f), z1 = body_top * rnd(g, 0.6f, 0.98f);
    s.label_z0 = z0;
    s.label_z1 = z1;
    l.metal = 0;
    l.clear = 0;
    l.sizeV = z1 - z0;
    l.sizeU = 2 * PI * s.max_radius;
    if (chance(g, 0.3f)) {
      s.label_az0 = rnd(g, -2.8f, -1.f);
      s.label_az1 = s.label_az0 + rnd(g, 1.2f, 2.4f);
      l.sizeU = (s.label_az1 - s.label_az0) * s.max_radius;
    }
    if (chance(g, 0.4f)) l.b = dot(l.a, V{1, 1, 1}) > 0.9f ? V{0.03f, 0.03f, 0.03f} : V{0.85f, 0.85f, 0.85f};
  }
  s.fill_z = chance(g, 0.7f) ? body_top * rnd(g, 0.2f, 1.02f) : -1.f;
  s.contents_clear = chance(g, 0.5f);
  s.contents = chance(g, 0.4f) ? V{0.9f, 0.95f, 0.97f} : hsv(rnd(g), rnd(g, 0.2f, 0.95f), rnd(g, 0.15f, 0.8f));
  s.band_z0 = s.band_z1 = -1.f;
  s.band_colour = any_colour(g);
  s.ripple = chance(g, 0.1f) ? rnd(g, 0.1f, 0.5f) : 0.f;
  s.ripple_length = rnd(g, 4.f, 20.f);
  s.squeeze = 1.f;
  return handle;
}

HD void add_handle(Scene& s, Rng& g) {
  float az = rnd(g, -PI, PI), reach = rnd(g, 14.f, 34.f), z0 = s.height * rnd(g, 0.12f, 0.3f), z1 = s.height * rnd(g, 0.7f, 0.92f);
  float r = rnd(g, 3.f, 6.5f), in = s.max_radius * 0.86f;
  V last = {0, 0, 0};
  for (int i = 0; i <= 7 && s.rods < MAX_RODS; i++) {
    float t = PI * i / 7.f, rad = in + reach * powf(sinf(t), 0.7f), z = 0.5f * (z0 + z1) - 0.5f * (z1 - z0) * cosf(t);
    V p = {rad * cosf(az), rad * sinf(az), z};
    if (i) s.rod[s.rods++] = {last, p, r, s.paint[BODY]};
    last = p;
  }
}

// Radius of the convex support of the outer profile between heights z0 and z1.
HD float widest(const Solid& s, float z0, float z1) {
  float r = 0;
  for (int i = 0; i < s.segments; i++) {
    const Segment& g = s.segment[i];
    for (int k = 0; k <= 4; k++) {
      float z = g.z0 + 0.25f * k * (g.z1 - g.z0), q = g.r0 + 0.25f * k * (g.r1 - g.r0);
      if (z >= z0 && z <= z1) r = fmaxf(r, q);
    }
  }
  return r;
}

// Lays the container down: its convex hull rests on the table.
HD void lay_down(Solid& s, Rng& g, float dir) {
  float bz0 = 0, br0 = s.max_radius, bz1 = s.height, br1 = s.max_radius;
  float mid = 0.5f * s.height;
  bool found = false;
  for (int i = 0; i <= s.segments && !found; i++)
    for (int j = 0; j <= s.segments && !found; j++) {
      const Segment& a = s.segment[i < s.segments ? i : s.segments - 1];
      const Segment& b = s.segment[j < s.segments ? j : s.segments - 1];
      float z0 = i < s.segments ? a.z0 : a.z1, r0 = i < s.segments ? a.r0 : a.r1;
      float z1 = j < s.segments ? b.z0 : b.z1, r1 = j < s.segments ? b.r0 : b.r1;
      if (z0 > mid || z1 <= mid || z1 - z0 < 1.f) continue;
      bool ok = true;
      for (int k = 0; k < s.segments && ok; k++) {
        const Segment& c = s.segment[k];
        ok = c.r0 <= r0 + (r1 - r0) * (c.z0 - z0) / (z1 - z0) + 0.02f && c.r1 <= r0 + (r1 - r0) * (c.z1 - z0) / (z1 - z0) + 0.02f;
      }
      if (ok) { bz0 = z0; br0 = r0; bz1 = z1; br1 = r1; found = true; }
    }
  // Line r = br0 + m (z - bz0) rests on the table: the axis is tilted by atan(m).
  float m = (br1 - br0) / (bz1 - bz0), tilt = atanf(m), c = cosf(tilt), sn = sinf(tilt);
  V h = {cosf(dir), sinf(dir), 0};
  s.body.z = unit(h * c + V{0, 0, 1} * sn);
  V down = unit(h * sn - V{0, 0, 1} * c);  // perpendicular to the axis, downwards
  float roll = rnd(g, 0.f, 2 * PI);
  V side = cross(s.body.z, down);
  s.body.x = down * cosf(roll) + side * sinf(roll);
  s.body.y = cross(s.body.z, s.body.x);
  float drop = (br0 - m * bz0) * c;  // distance of the base centre from the resting line
  s.body.o = V{0, 0, drop} - h * (0.5f * s.height * c);
}

// ---------------------------------------------------------------- camera

HD void aim(Camera& c, V eye, V target, float roll) {
  c.eye = eye;
  c.forward = unit(target - eye);
  V up = fabsf(c.forward.z) > 0.995f ? V{0, 1, 0} : V{0, 0, 1};
  V right = unit(cross(c.forward, up)), down = cross(c.forward, right);
  c.right = right * cosf(roll) + down * sinf(roll);
  c.down = down * cosf(roll) - right * sinf(roll);
}

struct Box2 {
  float x0, y0, x1, y1;
};
HD void grow(Box2& b, float x, float y) {
  b.x0 = fminf(b.x0, x); b.x1 = fmaxf(b.x1, x);
  b.y0 = fminf(b.y0, y); b.y1 = fmaxf(b.y1, y);
}
HD Box2 solid_box(const Camera& c, const Solid& s) {
  Box2 b = {1e9f, 1e9f, -1e9f, -1e9f};
  for (int i = 0; i <= s.segments; i++) {
    const Segment& g = s.segment[i < s.segments ? i : s.segments - 1];
    float z = i < s.segments ? g.z0 : g.z1, r = i < s.segments ? g.r0 : g.r1;
    if (r < 0.3f * s.max_radius && i && i < s.segments) continue;
    for (int k = 0; k < 24; k++) {
      float a = 2 * PI * k / 24, x, y;
      project(c, to_world(s.body, V{r * cosf(a), s.squeeze * r * sinf(a), z}), x, y);
      grow(b, x, y);
    }
  }
  return b;
}
HD Box2 container_box(const Scene& s) {
  Box2 b = solid_box(s.camera, s);
  if (s.square_slab >= 0)
    for (int k = 0; k < 8; k++) {
      const Slab& q = s.slab[s.square_slab];
      float x, y;
      project(s.camera, to_world(q.frame, V{(k & 1 ? 1 : -1) * q.half.x, (k & 2 ? 1 : -1) * q.half.y, (k & 4 ? 1 : -1) * q.half.z}), x, y);
      grow(b, x, y);
    }
  return b;
}
HD V card_corner(const Scene& s, int k) {
  return to_world(s.slab[0].frame, V{(k == 0 || k == 3 ? -1 : 1) * 0.5f * CARD_W, (k < 2 ? -1 : 1) * 0.5f * CARD_H, 0.5f * CARD_T});
}
HD Box2 card_box(const Scene& s) {
  Box2 b = {1e9f, 1e9f, -1e9f, -1e9f};
  for (int k = 0; k < 4; k++) {
    float x, y;
    project(s.camera, card_corner(s, k), x, y);
    grow(b, x, y);
  }
  return b;
}

// close: at the container alone, the card where it may be.
HD void place_camera(Scene& s, Rng& g, int W, int H, bool cut, bool close) {
  Camera& c = s.camera;
  float f35 = chance(g, 0.72f) ? rnd(g, 22.f, 34.f) : rnd(g, 34.f, 80.f);
  c.focal = f35 * sqrtf((float)W * W + (float)H * H) / 43.2666f;
  c.cx = 0.5f * (W - 1);
  c.cy = 0.5f * (H - 1);
  c.k1 = chance(g, 0.4f) ? 0.f : chance(g, 0.15f) ? rnd(g, -0.15f, -0.05f) : rnd(g, -0.05f, 0.04f);
  float elev;
  switch (s.arrangement) {
    case LYING: elev = PI / 2 - fabsf(normal(g)) * 0.3f; break;
    case ON_FRONT: elev = chance(g, 0.6f) ? rnd(g, 0.f, 0.2f) : rnd(g, 0.f, 0.55f); break;
    case LEANING: elev = rnd(g, 0.08f, 0.85f); break;
    default: elev = chance(g, 0.85f) ? rnd(g, 0.15f, 0.95f) : rnd(g, 0.05f, 1.1f);
  }
  if (elev < 0.55f && s.arrangement == LYING) elev = 0.55f;
  float az = -PI / 2 + 0.25f * normal(g), roll = (chance(g, 0.8f) ? 0.03f : 0.12f) * normal(g);
  if (s.arrangement == LYING) roll = rnd(g, -0.4f, 0.4f);
  V out = {cosf(az) * cosf(elev), sinf(az) * cosf(elev), sinf(elev)};
  V target = s.has_container ? to_world(s.body, V{0, 0, 0.5f * s.height}) : s.slab[0].frame.o;
  if (s.has_card && s.has_container && !close) target = mix(target, s.slab[0].frame.o, 0.35f);
  float fill = cut ? rnd(g, 0.75f, 1.35f) : close ? rnd(g, 0.55f, 0.9f) : chance(g, 0.16f) ? rnd(g, 0.15f, 0.42f) : rnd(g, 0.42f, 0.98f);
  if (!cut && !s.has_container) fill = rnd(g, 0.15f, 0.6f);
  float dist = 500.f;
  Box2 b;
  for (int i = 0; i < 7; i++) {
    V eye = target + out * dist;
    aim(c, eye, target, roll);
    b = {1e9f, 1e9f, -1e9f, -1e9f};
    if (s.has_container) b = container_box(s);
    if (s.has_card && !close) {
      Box2 k = card_box(s);
      if (!s.has_container) b = k;
      else { grow(b, k.x0, k.y0); grow(b, k.x1, k.y1); }
    }
    float mx = 0.5f * (b.x0 + b.x1) - c.cx, my = 0.5f * (b.y0 + b.y1) - c.cy;
    target = target + (c.right * mx + c.down * my) * (dist / c.focal) * 0.9f;
    float need = fmaxf((b.x1 - b.x0) / W, (b.y1 - b.y0) / H) / fill;
    dist = clampf(dist * need, 60.f, 4000.f);
  }
  // Slide the subject about inside the frame.
  float sx = fmaxf(0.f, W - (b.x1 - b.x0)) * 0.5f, sy = fmaxf(0.f, H - (b.y1 - b.y0)) * 0.5f;
  float k = cut ? 1.f : 0.92f;
  float px = k * sx * clampf(0.5f * normal(g), -1.f, 1.f), py = k * sy * clampf(0.5f * normal(g), -1.f, 1.f);
  if (cut) {
    float bw = b.x1 - b.x0, bh = b.y1 - b.y0;
    int side = pick(g, 4);
    float over = rnd(g, 0.03f, 0.4f);
    if (side == 0) px = sx + over * bw;
    if (side == 1) px = -sx - over * bw;
    if (side == 2) py = sy + over * bh;
    if (side == 3) py = -sy - over * bh;
  }
  target = target - (c.right * px + c.down * py) * (dist / c.focal);
  V eye = target + out * dist;
  if (eye.z < 4.f) eye.z = rnd(g, 4.f, 30.f);
  aim(c, eye, target, roll);
  c.focus = dist;
  c.lens_radius = chance(g, 0.45f) ? 0.f : chance(g, 0.15f) ? rnd(g, 1.8f, 4.5f) : rnd(g, 0.2f, 1.8f);
}

// ---------------------------------------------------------------- card

HD void place_card(Scene& s, Rng& g, float width, float height) {
  Slab& k = s.slab[0];
  k = {};
  k.half = {0.5f * width, 0.5f * height, 0.5f * CARD_T};
  k.corner = CARD_CORNER;
  k.face = card_paint(g);
  k.side = plain(chance(g, 0.5f) ? V{0.8f, 0.8f, 0.8f} : k.face.a);
  V up = {0, 0, 1};
  if (s.arrangement == ON_FRONT || s.arrangement == LEANING) {
    float az = -PI / 2 + clampf(0.25f * normal(g), -0.8f, 0.8f);
    V out = {cosf(az), sinf(az), 0}, across = cross(up, out);
    float turn = (chance(g, 0.55f) ? PI / 2 : 0.f) + (chance(g, 0.5f) ? PI : 0.f);
    float tall = fabsf(sinf(turn)) > 0.5f ? CARD_W : CARD_H;
    float lateral = clampf(0.12f * normal(g), -0.5f, 0.5f) * s.max_radius;
    V in_up = up;
    float dist, z;
    if (s.arrangement == ON_FRONT) {
      turn += chance(g, 0.7f) ? 0.02f * normal(g) : 0.07f * normal(g);
      float zmax = fmaxf(s.height - tall * (chance(g, 0.7f) ? rnd(g, 0.85f, 1.1f) : rnd(g, 0.4f, 1.f)), 0.f);
      float z0 = rnd(g, fminf(4.f, zmax), zmax);  // a card that stands on the table leans
      s.card_near_table = z0 < 20.f;
      z = z0 + 0.5f * tall + 1.f;
      dist = widest(s, z0, z0 + tall) + 0.5f * CARD_T;
      if (dist < 6.f) dist = s.max_radius;
    } else {
      float lean = chance(g, 0.45f) ? rnd(g, 0.02f, 0.16f) : rnd(g, 0.1f, 0.6f);
      in_up = unit(up * cosf(lean) - out * sinf(lean));
      float d0 = 0;
      for (int i = 0; i < s.segments; i++) {
        const Segment& q = s.segment[i];
        if (q.z0 < tall * cosf(lean)) d0 = fmaxf(d0, q.r0 + q.z0 * tanf(lean));
      }
      dist = d0 - 0.5f * tall * sinf(lean);
      z = 0.5f * tall * cosf(lean);
      out = cross(across, in_up);
      V horiz = {cosf(az), sinf(az), 0};
      k.frame.o = horiz * dist + across * lateral + up * z + out * (0.5f * CARD_T / cosf(lean));
    }
    V nz = cross(across, in_up);
    k.frame.z = nz;
    k.frame.x = across * cosf(turn) + in_up * sinf(turn);
    k.frame.y = cross(k.frame.z, k.frame.x);
    if (s.arrangement == ON_FRONT) k.frame.o = V{cosf(az), sinf(az), 0} * dist + across * lateral + up * z;
    return;
  }
  float yaw = chance(g, 0.5f) ? rnd(g, -PI, PI) : (PI * 0.5f) * pick(g, 4) + 0.3f * normal(g);
  k.frame.x = {cosf(yaw), sinf(yaw), 0};
  k.frame.y = {-sinf(yaw), cosf(yaw), 0};
  k.frame.z = up;
  for (int tries = 0; tries < 30; tries++) {
    float az = s.arrangement == LYING ? rnd(g, -PI, PI) : -PI / 2 + rnd(g, -2.f, 2.f);
    float r = s.foot_radius + rnd(g, 15.f, 170.f);
    if (s.arrangement == LYING) r = rnd(g, 40.f, 230.f);
    if (!s.has_container) r = rnd(g, 0.f, 60.f);
    k.frame.o = V{r * cosf(az), r * sinf(az), 0.5f * CARD_T + 0.02f};
    bool clear = true;
    for (int i = 0; i < 81 && clear && s.has_container; i++) {
      V p = to_world(k.frame, V{width * ((i % 9) / 8.f - 0.5f), height * ((i / 9) / 8.f - 0.5f), 0});
      V q = to_local(s.body, p);
      float gap = 2.f;
      if (s.arrangement == LYING) clear = !(q.z > -gap && q.z < s.height + gap && fabsf(dot(p - s.body.o, cross(s.body.z, up))) < s.max_radius + gap);
      else clear = hypotf(q.x, q.y) > s.foot_radius + gap;
    }
    if (clear) return;
  }
}

// Where there is no card: a book, phone, sheet, or card artwork of clearly other proportions, placed as a card would be.
HD void put_other_rectangle(Scene& s, Rng& g) {
  float ratio = chance(g, 0.5f) ? rnd(g, 1.f, 1.33f) : rnd(g, 1.95f, 3.2f), tall = rnd(g, 30.f, 90.f);
  place_card(s, g, tall * ratio, tall);
  if (chance(g, 0.4f)) return;
  Slab& b = s.slab[s.slabs++];
  b = s.slab[0];
  float thick = chance(g, 0.5f) ? 0.1f : rnd(g, 0.5f, 12.f);
  b.half.z = 0.5f * thick;
  b.frame.o.z = 0.5f * thick + 0.02f;
  b.corner = chance(g, 0.5f) ? 0.f : rnd(g, 0.5f, 9.f);
  int kind = pick(g, 5);
  if (kind) b.face.pattern = kind == 1 ? BOOK : kind == 2 ? PHONE : kind == 3 ? PAPER : CARD_PLAYING;
  if (kind >= 3) b.face.a = V{0.8f, 0.8f, 0.78f};
  b.face.sizeU = tall * ratio;
  b.face.sizeV = tall;
}

// Fingers, tape and rubber bands that hold or cover a little of the card.
HD void hold_card(Scene& s, Rng& g) {
  const Frame& f = s.slab[0].frame;
  bool upright = s.arrangement == ON_FRONT || s.arrangement == LEANING;
  float skin = rnd(g, 0.12f, 0.75f);
  Paint hand = plain(V{skin, skin * rnd(g, 0.6f, 0.75f), skin * rnd(g, 0.4f, 0.6f)}, 0.5f, 0.3f);
  // What is low on the container and held by nothing would be taken to lean.
  float banded = s.arrangement == LEANING ? 0.06f : s.card_near_table ? 1.f : 0.5f;
  if (upright && chance(g, banded)) {
    // A band round container and card: a strip over the card's face and a ring round the container.
    V up = s.body.z;
    float v = dot(f.y, up), w = dot(f.x, up);
    bool along_x = fabsf(v) > fabsf(w);
    float offset = rnd(g, -0.38f, 0.38f) * (along_x ? CARD_H : CARD_W), width = rnd(g, 1.2f, 9.f);
    Slab& b = s.slab[s.slabs];
    b = {};
    b.frame = f;
    b.frame.o = to_world(f, along_x ? V{0, offset, 0.9f} : V{offset, 0, 0.9f});
    b.half = along_x ? V{0.5f * CARD_W + 0.6f, 0.5f * width, 0.6f} : V{0.5f * width, 0.5f * CARD_H + 0.6f, 0.6f};
    b.face = b.side = plain(s.band_colour, 0.5f, 0.2f);
    s.slabs++;
    float z = dot(b.frame.o - s.body.o, up);
    s.band_z0 = z - 0.5f * width;
    s.band_z1 = z + 0.5f * width;
  }
  if (chance(g, upright ? 0.25f : 0.08f) && s.rods + 4 < MAX_RODS) {
    int n = 1 + pick(g, 2);
    float side = rnd(g, 0.f, 4.f);
    for (int i = 0; i < n; i++) {
      float t = side + 0.6f * i, e = fract(t);
      int q = ((int)t) & 3;
      float ux = q == 0 ? e - 0.5f : q == 1 ? 0.5f : q == 2 ? 0.5f - e : -0.5f, uy = q == 0 ? -0.5f : q == 1 ? e - 0.5f : q == 2 ? 0.5f : 0.5f - e;
      V tip = to_world(f, V{ux * CARD_W * rnd(g, 0.75f, 1.f), uy * CARD_H * rnd(g, 0.7f, 1.f), 7.f});
      V away = unit(to_world_dir(f, V{ux + 0.3f * normal(g), uy + 0.3f * normal(g), 0.25f}) + V{0, -0.6f, 0});
      float r = rnd(g, 5.5f, 8.5f);
      V joint = tip + away * rnd(g, 25.f, 45.f), end = joint + unit(away + V{0.2f * normal(g), -0.5f, -0.2f}) * 120.f;
      s.rod[s.rods++] = {tip, joint, r, hand};
      s.rod[s.rods++] = {joint, end, r * 1.15f, hand};
    }
  }
  if (chance(g, upright ? 0.1f : 0.02f)) {
    Slab& b = s.slab[s.slabs++];
    b = {};
    b.frame = f;
    b.frame.o = to_world(f, V{(chance(g, 0.5f) ? 0.5f : -0.5f) * CARD_W, rnd(g, -0.4f, 0.4f) * CARD_H, 0.6f});
    b.half = V{rnd(g, 6.f, 14.f), rnd(g, 4.f, 9.f), 0.1f};
    b.face = b.side = plain(chance(g, 0.5f) ? V{0.75f, 0.72f, 0.6f} : any_colour(g), 0.4f, 0.5f);
  }
}

// ---------------------------------------------------------------- surroundings

// A saucer, plate, tray or coaster: the container stands on it, but it is no part of it.
HD void put_dish_under(Scene& s, Rng& g) {
  Drum& d = s.drum[s.drums++];
  bool flat = chance(g, 0.3f);
  d = {};
  d.height = flat ? rnd(g, 1.5f, 6.f) : rnd(g, 6.f, 26.f);
  d.r0 = widest(s, 0.f, d.height) * rnd(g, 1.02f, 1.2f);
  d.r1 = d.r0 * (flat ? rnd(g, 1.f, 1.4f) : rnd(g, 1.2f, 2.f));
  d.sunk = flat ? 0.f : d.height * rnd(g, 0.5f, 0.9f);
  d.side = d.top = any_paint(g);
  if (chance(g, 0.55f)) d.side = d.top = s.paint[BODY];
  d.side.clear = d.top.clear = 0.f;
  if (chance(g, 0.2f)) d.top = any_paint(g);
  s.foot_radius = fmaxf(s.max_radius, d.r1);
  s.body.o.z = d.height - d.sunk;
  for (int i = 0; i < s.rods; i++) { s.rod[i].a.z += s.body.o.z; s.rod[i].b.z += s.body.o.z; }  // the handle
  if (!flat && chance(g, 0.3f) && s.rods < MAX_RODS) {  // a spoon
    float az = rnd(g, -PI, PI);
    V rim = V{cosf(az), sinf(az), 0} * (0.9f * d.r1) + V{0, 0, d.height + 2.f}, side = V{-sinf(az), cosf(az), 0} * rnd(g, 20.f, 60.f);
    s.rod[s.rods++] = {rim - side, rim + side, rnd(g, 1.5f, 3.f), any_paint(g)};
  }
}

// A cup, jar or bottle of simple shape among the clutter.
HD void add_vessel(Scene& s, Rng& g, float x, float y, float r, float h) {
  Paint paint = any_paint(g), other = any_paint(g);
  if (chance(g, 0.4f)) { paint.pattern = PRINT; paint.sizeU = 2 * PI * r; paint.sizeV = h; }
  if (chance(g, 0.25f)) { paint.metal = 0.9f; paint.rough = rnd(g, 0.f, 0.3f); paint.pattern = PLAIN; }
  float top = r * rnd(g, 0.85f, 1.25f), body = h * rnd(g, 0.55f, 1.f);
  Drum* d = &s.drum[s.drums++];
  *d = {x, y, 0, body, r, top, paint, other};
  if (body > 0.85f * h) { d->sunk = chance(g, 0.6f) ? 0.8f * body : 0.f; return; }
  float neck = top * rnd(g, 0.3f, 0.95f), shoulder = (h - body) * rnd(g, 0.2f, 0.6f);
  s.drum[s.drums++] = {x, y, body, shoulder, top, neck, paint, paint};
  float cap = neck * rnd(g, 1.f, 1.2f);
  s.drum[s.drums++] = {x, y, body + shoulder, h - body - shoulder, cap, cap * rnd(g, 0.85f, 1.f), other, other};
}

// Something behind the container whose picture touches its top, as if it went on.
HD void put_behind_top(Scene& s, Rng& g) {
  V eye = s.camera.eye, top = to_world(s.body, V{0, 0, s.height}), along = unit(top - eye);
  float level = hypotf(along.x, along.y), wide = widest(s, 0.7f * s.height, s.height + 1.f) * rnd(g, 0.25f, 1.3f);
  if (along.y < 0.3f || s.drums >= MAX_DRUMS || s.slabs >= MAX_SLABS || s.balls >= MAX_BALLS) return;
  V at = top + along * ((s.max_radius + wide + rnd(g, 15.f, 350.f)) / level);
  at.x += 0.4f * wide * normal(g);
  Paint paint = chance(g, 0.3f) ? s.paint[CAP] : any_paint(g);
  paint.clear = 0.f;
  bool on_wall = at.y > fminf(s.table_back, s.wall_y) - wide - 10.f;
  if (on_wall) {
    if (s.wall_y > NO_WALL) return;
    at = eye + along * ((s.wall_y - 8.f - eye.y) / along.y);
    wide *= length(at - eye) / length(top - eye);
  } else if (at.z < 12.f) at = eye + along * (eye.z / -along.z);
  float reach = wide * rnd(g, 0.3f, 2.5f);  // how far it shows beyond the top
  int kind = pick(g, 3);
  if (on_wall || kind == 0) {
    Slab& b = s.slab[s.slabs++];
    b = {};
    b.frame = {at + V{0, 0, 0.6f * reach}, V{1, 0, 0}, V{0, 0, 1}, V{0, -1, 0}};
    b.half = V{wide, reach, on_wall ? 5.f : fminf(wide, 12.f)};
    if (!on_wall) { b.frame.o.z = 0.5f * (at.z + reach); b.half.y = b.frame.o.z; }
    b.face = b.side = paint;
    b.face.sizeU = 2 * wide;
    b.face.sizeV = 2 * b.half.y;
    if (chance(g, 0.3f)) b.face.pattern = BOOK;
  } else if (kind == 1) {
    float r = fmaxf(0.5f * (at.z + reach), 6.f);
    if (r < 60.f) s.ball[s.balls++] = {V{at.x, at.y, r}, r, paint};
  } else {
    float h = fmaxf(at.z, 0.f) + reach;
    s.drum[s.drums++] = {at.x, at.y, 0, h, wide * rnd(g, 0.8f, 1.1f), wide, paint, any_paint(g)};
    if (chance(g, 0.4f) && s.drums < MAX_DRUMS) s.drum[s.drums++] = {at.x, at.y, h, rnd(g, 2.f, 12.f), wide * 1.2f, wide * 1.2f, any_paint(g), paint};
  }
}

HD void add_clutter(Scene& s, Rng& g, int W, int H) {
  int wanted = chance(g, 0.25f) ? 0 : pick(g, 11);
  if (s.has_container && s.arrangement != LYING && chance(g, 0.15f)) put_behind_top(s, g);
  Box2 cb = {1e9f, 1e9f, -1e9f, -1e9f}, kb = cb;
  if (s.has_container) cb = container_box(s);
  if (s.has_card) kb = card_box(s);
  V mid = s.has_container ? to_world(s.body, V{0, 0, 0.5f * s.height}) : V{0, 0, 0};
  float main_depth = dot(mid - s.camera.eye, s.camera.forward);
  bool top_view = s.camera.forward.z < -0.75f;
  float limit = s.has_container ? s.height * s.max_radius : 1500.f;
  for (int i = 0, tries = 0; i < wanted && tries < 60; tries++) {
    int kind = pick(g, 11);
    float a = rnd(g, -PI, PI), d = top_view ? rnd(g, 90.f, 420.f) : rnd(g, 100.f, 900.f);
    if (!s.has_container && i < 2) d = rnd(g, 50.f, 220.f);  // something there must be to mistake for a container
    V p = {d * cosf(a), d * sinf(a), 0};
    if (!top_view && chance(g, 0.75f)) p.y = fabsf(p.y);
    if (p.y > fminf(s.table_back, s.wall_y) - 60.f) continue;
    bool taken = false;
    for (int k = 0; k < s.others; k++) taken |= hypotf(p.x - s.other[k].body.o.x, p.y - s.other[k].body.o.y) < s.other[k].max_radius + 60.f;
    if (taken) continue;
    float size, tall;
    float w = rnd(g, 12.f, 75.f), dd = rnd(g, 8.f, 60.f), h = rnd(g, 12.f, 170.f);
    float pw = rnd(g, 40.f, 110.f), pd = rnd(g, 60.f, 150.f), ph = chance(g, 0.5f) ? 0.2f : rnd(g, 5.f, 35.f);
    float br = rnd(g, 12.f, 45.f), dr = rnd(g, 8.f, 42.f), dh = rnd(g, 18.f, 180.f), rl = rnd(g, 50.f, 110.f);
    if (!s.has_container) dh = dr * rnd(g, 0.08f, 0.35f);  // plates and lids; anything taller would be a container
    if (kind <= 2) { size = hypotf(w, dd); tall = h; }
    else if (kind <= 4) { size = hypotf(pw, pd); tall = ph; }
    else if (kind == 5) { size = br; tall = 2 * br; }
    else if (kind <= 7) { size = dr; tall = dh; }
    else if (kind == 10) { size = 14.f; tall = 2.f; }
    else { size = rl; tall = 10; }
    float u, v;
    V c = p + V{0, 0, 0.5f * tall};
    if (!project(s.camera, c, u, v)) continue;
    float depth = dot(c - s.camera.eye, s.camera.forward), rad = hypotf(size, 0.5f * tall) * s.camera.focal / fmaxf(depth, 30.f);
    bool on_card = s.has_card && u + rad > kb.x0 && u - rad < kb.x1 && v + rad > kb.y0 && v - rad < kb.y1;
    bool on_body = s.has_container && u + rad > cb.x0 && u - rad < cb.x1 && v + rad > cb.y0 && v - rad < cb.y1;
    bool behind = depth > main_depth + size + s.max_radius && hypotf(p.x - mid.x, p.y - mid.y) > size + s.max_radius + 5.f;
    if (on_card && !(behind && (s.arrangement == ON_FRONT || s.arrangement == LEANING))) continue;
    if (on_body && (top_view || !behind)) continue;
    if (u + rad < 0 || v + rad < 0 || u - rad > W || v - rad > H) continue;
    // Of several containers the one meant looks the largest, or the others run out of the picture.
    bool inside = u > rad && v > rad && u < W - rad && v < H - rad;
    if (s.has_container && kind >= 6 && kind <= 7 && dr * dh * main_depth * main_depth > (inside ? 0.45f : 1.f) * limit * depth * depth) continue;
    Paint paint = any_paint(g);
    if (kind <= 2 && s.slabs < MAX_SLABS) {
      float yaw = rnd(g, -PI, PI);
      Slab& b = s.slab[s.slabs++];
      b = {};
      b.frame = {p + V{0, 0, 0.5f * h}, V{cosf(yaw), sinf(yaw), 0}, V{-sinf(yaw), cosf(yaw), 0}, V{0, 0, 1}};
      b.half = V{0.5f * w, 0.5f * dd, 0.5f * h};
      b.face = b.side = paint;
      if (chance(g, 0.4f)) { b.side.pattern = PRINT; b.side.sizeU = w; b.side.sizeV = h; }
    } else if (kind <= 4 && s.slabs < MAX_SLABS) {  // book, phone, playing card, sheet: other rectangles
      float yaw = rnd(g, -PI, PI);
      Slab& b = s.slab[s.slabs++];
      b = {};
      int type = pick(g, 4);
      if (type == 0) { pw = 63.5f; pd = 88.9f; ph = 0.3f; b.corner = 3.f; paint.pattern = CARD_PLAYING; paint.a = V{0.8f, 0.8f, 0.8f}; }
      if (type == 1) { pw = rnd(g, 66.f, 78.f); pd = rnd(g, 138.f, 165.f); ph = rnd(g, 7.f, 11.f); b.corner = 9.f; paint.pattern = PHONE; paint.coat = 1; paint.rough = 0.01f; paint.a = V{0.02f, 0.02f, 0.025f}; }
      if (type == 2) { ph = rnd(g, 6.f, 30.f); paint.pattern = BOOK; }
      if (type == 3) { ph = 0.15f; paint.pattern = PAPER; paint.a = V{0.8f, 0.8f, 0.78f}; paint.b = V{0.1f, 0.1f, 0.2f}; }
      paint.sizeU = pw;
      paint.sizeV = pd;
      b.frame = {p + V{0, 0, 0.5f * ph + 0.02f}, V{cosf(yaw), sinf(yaw), 0}, V{-sinf(yaw), cosf(yaw), 0}, V{0, 0, 1}};
      b.half = V{0.5f * pw, 0.5f * pd, 0.5f * ph};
      b.face = paint;
      b.side = plain(type == 2 ? V{0.75f, 0.72f, 0.66f} : paint.b);
    } else if (kind == 5 && s.balls < MAX_BALLS) {
      s.ball[s.balls++] = {p + V{0, 0, br}, br, paint};
    } else if (kind <= 7 && s.drums < MAX_DRUMS) {
      if (s.has_container && chance(g, 0.5f)) {
        if (s.drums + 3 <= MAX_DRUMS) add_vessel(s, g, p.x, p.y, dr, dh);
        i++;
        continue;
      }
      Drum& b = s.drum[s.drums++];
      b = {p.x, p.y, 0, dh, dr, dr * rnd(g, 0.85f, 1.25f), paint, any_paint(g)};
      if (!s.has_container) { b.r1 = dr * rnd(g, 1.f, 1.8f); b.sunk = chance(g, 0.6f) ? 0.8f * dh : 0.f; }
      else if (chance(g, 0.3f) && s.rods + 3 < MAX_RODS) {
        b.top = plain(V{0.02f, 0.02f, 0.02f});
        for (int k = 0; k < 3; k++) {
          V at = {p.x + 0.5f * dr * normal(g) * 0.5f, p.y + 0.25f * dr * normal(g), 0.6f * dh};
          s.rod[s.rods++] = {at, at + V{18.f * normal(g), 18.f * normal(g), rnd(g, 60.f, 110.f)}, rnd(g, 2.5f, 4.5f), any_paint(g)};
        }
      } else if (chance(g, 0.35f) && s.drums < MAX_DRUMS) {  // spool or lidded pot: a wider rim on top
        Drum& t = s.drum[s.drums++];
        t = {p.x, p.y, dh, rnd(g, 2.f, 10.f), b.r1 * 1.15f, b.r1 * 1.12f, any_paint(g), any_paint(g)};
      }
    } else if (kind == 10 && s.drums < MAX_DRUMS) {  // a coin or another small disc
      float r = rnd(g, 8.f, 20.f);
      if (chance(g, 0.7f)) paint = plain(chance(g, 0.5f) ? V{0.7f, 0.68f, 0.62f} : V{0.72f, 0.5f, 0.25f}, 0.3f), paint.metal = 0.9f;
      s.drum[s.drums++] = {p.x, p.y, 0, rnd(g, 1.4f, 3.f), r, r, paint, paint};
    } else if (kind >= 8 && kind < 10 && s.rods < MAX_RODS) {
      float yaw = rnd(g, -PI, PI), r = rnd(g, 2.5f, 5.5f);
      V half = V{cosf(yaw), sinf(yaw), 0} * (0.5f * rl);
      V o = p + V{0, 0, r};
      s.rod[s.rods++] = {o - half, o + half, r, paint};
    }
    i++;
  }
  // Things on or before the wall: frames, shelves, book spines.
  int n = chance(g, 0.5f) ? 0 : 1 + pick(g, 4);
  for (int i = 0; i < n && s.slabs < MAX_SLABS; i++) {
    Slab& b = s.slab[s.slabs++];
    b = {};
    bool hangs = chance(g, 0.5f);
    float w = rnd(g, 20.f, 160.f), h = rnd(g, 60.f, 240.f);
    float y = s.wall_y - (hangs ? 6.f : rnd(g, 20.f, 120.f));
    if (s.has_container && y < s.max_radius + 150.f) { s.slabs--; break; }
    b.frame = {V{rnd(g, -450.f, 450.f), y, hangs ? rnd(g, 100.f, 500.f) : 0.5f * h}, V{1, 0, 0}, V{0, 0, 1}, V{0, -1, 0}};
    b.half = V{0.5f * w, 0.5f * h, 5.f};
    b.face = any_paint(g);
    b.face.pattern = chance(g, 0.5f) ? BOOK : PLAIN;
    b.face.sizeU = w;
    b.face.sizeV = h;
    b.side = any_paint(g);
  }
}

HD void set_light(Scene& s, Rng& g, const float* around) {
  s.around = nullptr;
  s.open = 0;
  V warm = V{1.f, rnd(g, 0.7f, 1.f), rnd(g, 0.45f, 1.f)}, cool = V{rnd(g, 0.75f, 1.f), rnd(g, 0.9f, 1.f), 1.f};
  float ambient = chance(g, 0.3f) ? rnd(g, 0.5f, 1.2f) : rnd(g, 0.08f, 0.45f);
  V tint = chance(g, 0.5f) ? cool : mix(warm, V{1, 1, 1}, 0.5f);
  s.sky_mid = tint * (ambient * rnd(g, 0.5f, 1.2f));
  s.sky_high = tint * (ambient * rnd(g, 0.6f, 1.6f));
  s.sky_low = tint * (ambient * rnd(g, 0.1f, 0.6f));
  s.windows = pick(g, MAX_WINDOWS + 1);
  for (int i = 0; i < s.windows; i++) {
    float power = rnd(g, 0.5f, 5.f);
    s.window[i] = {rnd(g, -PI, PI), rnd(g, -0.1f, 1.3f), rnd(g, 0.08f, 0.6f), rnd(g, 0.1f, 0.5f), (chance(g, 0.7f) ? cool : warm) * power};
  }
  s.lamps = chance(g, 0.12f) ? 0 : chance(g, 0.3f) ? 2 : 1;
  if (s.environment >= 0) {
    s.around = around + (size_t)s.environment * AROUND_FLOATS;
    s.around_turn = rnd(g, -PI, PI);
    s.around_mirror = chance(g, 0.5f) ? -1.f : 1.f;
    s.around_power = 1.f;
    s.around_blur = chance(g, 0.5f) ? 0.f : rnd(g, 0.005f, 0.06f);
    if (chance(g, 0.75f)) s.lamps = 0;
    s.open = s.wall_y > NO_WALL && chance(g, 0.7f);
  }
  for (int i = 0; i < s.lamps; i++) {
    float az = rnd(g, -PI, PI), el = rnd(g, 0.3f, 1.45f), d = rnd(g, 500.f, 1800.f);
    V o = V{cosf(az) * cosf(el), sinf(az) * cosf(el), sinf(el)} * d;
    if (o.y > s.wall_y - 150.f) o.y = s.wall_y - 150.f;
    float r = chance(g, 0.35f) ? rnd(g, 5.f, 30.f) : rnd(g, 30.f, 350.f);
    float power = rnd(g, 0.4f, 2.4f) * (i ? 0.5f : 1.f);
    s.lamp[i] = {o, fminf(r, 0.5f * d), (chance(g, 0.5f) ? warm : cool) * (power * dot(o, o))};
  }
}

HD void make_square(Scene& s, Rng& g) {
  s.round = 0;
  if (chance(g, 0.45f)) {
    s.squeeze = rnd(g, 0.42f, 0.74f);
    return;
  }
  // A box with a round neck: the surface of revolution shrinks to neck and cap.
  float w = rnd(g, 22.f, 42.f), d = w * (chance(g, 0.5f) ? 1.f : rnd(g, 0.5f, 1.f)), h = rnd(g, 60.f, 190.f), neck = fminf(w, d) * rnd(g, 0.35f, 0.9f);
  Outline o;
  o.n = 0;
  add(o, h, 0, 0, CAP);
  add(o, h, neck * 1.05f, 0.3f, CAP);
  add(o, h + rnd(g, 4.f, 14.f), neck, 1.f, BODY);
  add_cap(o, g, o.c[o.n - 1].z, neck, fminf(w, d));
  build_surface(s, o);
  s.max_radius = fmaxf(s.max_radius, hypotf(w, d));
  s.label_z0 = s.label_z1 = -1.f;
  Slab& b = s.slab[s.slabs];
  s.square_slab = s.slabs++;
  b = {};
  float yaw = rnd(g, -PI, PI);
  b.frame = {V{0, 0, 0.5f * h}, V{cosf(yaw), sinf(yaw), 0}, V{-sinf(yaw), cosf(yaw), 0}, V{0, 0, 1}};
  b.half = V{w, d, 0.5f * h};
  b.face = b.side = s.paint[BODY];
  b.face.clear = b.side.clear = 0;
  if (chance(g, 0.6f)) { b.side = any_paint(g); b.side.pattern = PRINT; b.side.sizeU = 2 * w; b.side.sizeV = h; }
}

// Other containers beside, behind or before the one that is meant, touching it or not: a group, a row on a shelf.
HD void put_neighbours(Scene& s, Rng& g) {
  int wanted = 1 + pick(g, MAX_OTHERS);
  bool row = chance(g, 0.5f), alike = chance(g, 0.35f);
  float turn = 0.25f * normal(g);
  for (int i = 0, tries = 0; i < wanted && tries < 12; tries++) {
    Solid& c = s.other[s.others];
    if (alike) c = s;
    else make_container(c, g, false);
    // Beside the one meant, or the last one placed.
    const Solid& next = s.others && chance(g, 0.5f) ? s.other[s.others - 1] : (const Solid&)s;
    float az = row ? turn + (chance(g, 0.5f) ? PI : 0.f) : rnd(g, -PI, PI);
    float reach = &next == &s ? (chance(g, 0.8f) ? s.max_radius : s.foot_radius) : next.max_radius;
    float away = reach + c.max_radius + (chance(g, 0.5f) ? rnd(g, 0.05f, 1.f) : rnd(g, 1.f, 70.f)), spin = rnd(g, -PI, PI);
    V at = {next.body.o.x + away * cosf(az), next.body.o.y + away * sinf(az), 0};
    c.body = {at, V{cosf(spin), sinf(spin), 0}, V{-sinf(spin), cosf(spin), 0}, V{0, 0, 1}};
    bool clear = hypotf(at.x, at.y) > s.max_radius + c.max_radius && at.y < fminf(s.table_back, s.wall_y) - c.max_radius - 5.f;
    if (s.body.o.z > 0.f) clear = clear && hypotf(at.x, at.y) > s.foot_radius + c.max_radius;
    for (int k = 0; k < s.others; k++) clear = clear && hypotf(at.x - s.other[k].body.o.x, at.y - s.other[k].body.o.y) > s.other[k].max_radius + c.max_radius;
    if (s.has_card)
      for (int k = 0; k < 9; k++) {
        V q = to_world(s.slab[0].frame, V{(k % 3 - 1) * 0.5f * CARD_W, (k / 3 - 1) * 0.5f * CARD_H, 0});
        clear = clear && hypotf(at.x - q.x, at.y - q.y) > c.max_radius + 2.f;
      }
    if (!clear) continue;
    s.others++;
    i++;
  }
}

// Share of the points of a ring about the axis, just outside the surface, that the camera sees past the container itself, or past everything.
HD float ring_seen(const Scene& s, float z, float r, bool all) {
  int seen = 0;
  for (int k = 0; k < 24; k++) {
    float a = 2 * PI * k / 24, u, v;
    V p = to_world(s.body, V{(r + 0.6f) * cosf(a), (r + 0.6f) * sinf(a), z}), to = p - s.camera.eye;
    float d = length(to);
    Hit h;
    h.t = d - 0.8f;
    to = to * (1.f / d);
    if (all) {
      if (!project(s.camera, p, u, v) || intersect(s, s.camera.eye, to, 1.f, h)) continue;
      if (u < 0 || v < 0 || u > 2 * s.camera.cx || v > 2 * s.camera.cy) continue;
    } else if (hit_solid(s, s.camera.eye, to, 1.f, h)) continue;
    seen++;
  }
  return seen / 24.f;
}
// 1 when an end's rim is seen, 0 when the container itself or something before it hides it, -1 between.
HD float end_seen(const Scene& s, bool top) {
  float z = top ? s.height - 0.4f : 0.4f, r = 0;
  for (int i = 0; i < s.segments; i++) {
    const Segment& q = s.segment[i];
    if (fabsf(q.z0 - (top ? s.height : 0.f)) < 4.f) r = fmaxf(r, q.r0);
    if (fabsf(q.z1 - (top ? s.height : 0.f)) < 4.f) r = fmaxf(r, q.r1);
  }
  float alone = ring_seen(s, z, r, false), seen = ring_seen(s, z, r, true);
  if (alone < 0.12f) return s.paint[BODY].clear > 0.5f && !top ? -1.f : 0.f;
  return seen > 0.65f * alone ? 1.f : seen < 0.3f * alone ? 0.f : -1.f;
}
// Share of the container's near side that nothing else hides.
HD float body_seen(const Scene& s) {
  int seen = 0, count = 0;
  for (int k = 0; k < 35; k++) {
    V p = to_world(s.body, V{0, 0, s.height * (0.08f + 0.14f * (k / 5))});
    V side = unit(cross(s.body.z, p - s.camera.eye));
    p = p + side * (s.max_radius * 0.4f * (k % 5 - 2));
    V to = unit(p - s.camera.eye);
    Hit h;
    h.t = 1e9f;
    if (!hit_solid(s, s.camera.eye, to, 1.f, h)) continue;
    count++;
    h.t -= 1.f;
    bool hidden = false;
    for (int i = 0; i < s.others && !hidden; i++) hidden = hit_solid(s.other[i], s.camera.eye, to, 1.f, h);
    seen += !hidden;
  }
  return count ? (float)seen / count : 0.f;
}

HD void try_scene(Scene& s, Rng& g, int W, int H, int kind, bool close) {
  s.slabs = 1;
  s.balls = s.drums = s.rods = s.others = 0;
  s.round = 1;
  s.square_slab = -1;
  s.has_container = kind != 1;
  s.has_card = kind == 1 ? chance(g, 0.85f) : kind != 2;
  float u = rnd(g);
  s.arrangement = u < 0.34f ? STANDING : u < 0.57f ? LYING : u < 0.79f ? ON_FRONT : LEANING;
  if (!s.has_card && (s.arrangement == ON_FRONT || s.arrangement == LEANING)) s.arrangement = STANDING;
  if (!s.has_container && s.arrangement != LYING) s.arrangement = STANDING;
  s.table_back = chance(g, 0.6f) ? rnd(g, 200.f, 900.f) : 5000.f;
  s.wall_y = s.table_back < 4000.f ? s.table_back + (chance(g, 0.6f) ? 0.f : rnd(g, 50.f, 1500.f)) : rnd(g, 500.f, 3000.f);
  if (s.environment >= 0 && chance(g, 0.6f)) s.wall_y = 2.f * NO_WALL;
  if (make_container(s, g, s.arrangement == LYING) && (s.arrangement == STANDING || s.arrangement == LEANING)) add_handle(s, g);
  s.body = {V{0, 0, 0}, V{1, 0, 0}, V{0, 1, 0}, V{0, 0, 1}};
  float spin = rnd(g, 0.f, 2 * PI);
  if (s.arrangement == LYING) {
    float dir = rnd(g, 0.f, 2 * PI);
    lay_down(s, g, dir);
  } else if (s.rods == 0) {
    s.body.x = {cosf(spin), sinf(spin), 0};
    s.body.y = {-sinf(spin), cosf(spin), 0};
  }
  if (kind == 3) {
    if (s.arrangement == LYING) { s.arrangement = STANDING; s.body = {V{0, 0, 0}, V{cosf(spin), sinf(spin), 0}, V{-sinf(spin), cosf(spin), 0}, V{0, 0, 1}}; }
    s.rods = 0;
    make_square(s, g);
    if (s.arrangement != STANDING) s.arrangement = STANDING;
  }
  if (!s.has_container) s.rods = 0;
  s.foot_radius = s.max_radius;
  bool dish = s.has_container && kind != 3 && s.arrangement == STANDING && chance(g, s.height < 110.f ? 0.4f : 0.16f);
  if (dish) put_dish_under(s, g);
  if (s.has_card) {
    place_card(s, g, CARD_W, CARD_H);
    hold_card(s, g);
  } else put_other_rectangle(s, g);
  if (s.has_container && s.arrangement != LYING && kind != 3 && chance(g, 0.42f)) put_neighbours(s, g);
  place_camera(s, g, W, H, kind == 4, close);
}

// True where the container stands between the camera and one of the card's corners or its middle.
HD bool card_hidden(const Scene& s) {
  for (int k = 0; k < 5; k++) {
    V p = k < 4 ? mix(card_corner(s, k), s.slab[0].frame.o, 0.08f) : s.slab[0].frame.o;
    V to = p - s.camera.eye;
    float d = length(to);
    Hit h;
    h.t = d - 3.f;
    if (hit_solid(s, s.camera.eye, to * (1.f / d), 1.f, h)) return true;
    for (int i = 0; i < s.others; i++)
      if (hit_solid(s.other[i], s.camera.eye, to * (1.f / d), 1.f, h)) return true;
    if (s.square_slab >= 0 && hit_slab(s.slab[s.square_slab], s.camera.eye, to * (1.f / d), 1.f, h)) return true;
  }
  return dot(s.slab[0].frame.z, s.camera.eye - s.slab[0].frame.o) < 0.15f * length(s.camera.eye - s.slab[0].frame.o);
}

// True where something right before the camera hides the container.
HD bool blocked(const Scene& s) {
  V to = to_world(s.body, V{0, 0, 0.5f * s.height}) - s.camera.eye;
  Hit h;
  h.t = 0.3f * length(to);
  return intersect(s, s.camera.eye, unit(to), 0.f, h, NONE);
}

HD float share_inside(Box2 b, int W, int H) {
  float w = fminf(b.x1, W - 1.f) - fmaxf(b.x0, 0.f), h = fminf(b.y1, H - 1.f) - fmaxf(b.y0, 0.f);
  return w > 0 && h > 0 ? w * h / ((b.x1 - b.x0) * (b.y1 - b.y0)) : 0.f;
}
HD bool within(Box2 b, int W, int H, float margin) { return b.x0 > margin && b.y0 > margin && b.x1 < W - 1 - margin && b.y1 < H - 1 - margin; }

// truth: 0 container present, 1 round, 2 cut by frame, 3 card present (-1 = doubtful, do not teach), 4 arrangement or -1,
// 5..12 card corners clockwise as seen, from any of them, 13 and 14 base centre, 15 and 16 top centre,
// 17 base seen, 18 top seen, 19 stands on something, 20 another container is about as large, 21..24 corner seen, 25 quarter turns of the picture, clockwise
HD void write_truth(Scene& s, int W, int H) {
  float* t = s.truth;
  for (int i = 0; i < TRUTHS; i++) t[i] = -1.f;
  t[0] = s.has_container;
  if (s.has_container) {
    t[1] = s.round;
    Box2 b = container_box(s);
    t[2] = within(b, W, H, 1.5f) ? 0.f : within(b, W, H, -3.f) ? -1.f : 1.f;
    if (share_inside(b, W, H) < 0.2f) t[0] = t[1] = t[2] = -1.f;
    project(s.camera, s.body.o, t[13], t[14]);
    project(s.camera, to_world(s.body, V{0, 0, s.height}), t[15], t[16]);
    if (s.round && t[0] > 0.f) {
      t[17] = end_seen(s, false);
      t[18] = end_seen(s, true);
      if (s.arrangement == STANDING) t[19] = s.body.o.z > 0.5f;
    }
    float area = share_inside(b, W, H) * (b.x1 - b.x0) * (b.y1 - b.y0), largest = 0;
    for (int i = 0; i < s.others; i++) {
      Box2 o = solid_box(s.camera, s.other[i]);
      largest = fmaxf(largest, share_inside(o, W, H) * (o.x1 - o.x0) * (o.y1 - o.y0));
    }
    t[20] = largest > 0.5f * area;
    t[25] = s.arrangement == LYING || s.camera.forward.z < -0.9f ? -1.f : 0.f;
  } else t[13] = t[14] = t[15] = t[16] = -1e6f;
  t[3] = 0;
  for (int i = 5; i < 13; i++) t[i] = -1e6f;
  if (!s.has_card) return;
  float x[4], y[4], area = 0;
  for (int k = 0; k < 4; k++) project(s.camera, card_corner(s, k), x[k], y[k]);
  for (int k = 0; k < 4; k++) area += x[k] * y[(k + 1) & 3] - x[(k + 1) & 3] * y[k];
  bool clockwise = area > 0;  // y points down
  for (int k = 0; k < 4; k++) {
    int from = clockwise ? k : 3 - k;
    t[5 + 2 * k] = x[from];
    t[6 + 2 * k] = y[from];
    V p = mix(card_corner(s, from), s.slab[0].frame.o, 0.03f), to = p - s.camera.eye;
    float d = length(to);
    Hit h;
    h.t = d - 1.5f;
    t[21 + k] = x[from] > 0 && y[from] > 0 && x[from] < W - 1 && y[from] < H - 1 && !intersect(s, s.camera.eye, to * (1.f / d), 1.f, h);
  }
  Box2 b = card_box(s);
  t[3] = within(b, W, H, 0.5f) && !(s.has_container && card_hidden(s)) ? 1.f : -1.f;
  if (t[0] > 0.5f) t[4] = t[3] > 0.5f ? (float)s.arrangement : -1.f;
}

// Gives the card nearly the colour of what lies behind it: the table, the label or the wall of the container.
HD void match_card(Scene& s, Rng& g) {
  Paint& face = s.slab[0].face;
  const Paint& ground = s.mat && on_mat(s, s.slab[0].frame.o) ? s.mat_paint : s.table;
  V behind = ground.pattern == PLAIN ? ground.a : mix(ground.a, ground.b, 0.5f);
  if (s.arrangement == ON_FRONT || s.arrangement == LEANING) behind = s.label_z1 > 0 && chance(g, 0.6f) ? s.paint[LABEL].a : s.paint[BODY].a;
  face.a = behind * rnd(g, 0.9f, 1.12f);
  if (chance(g, 0.5f)) face.pattern = CARD_PLAIN;
  else face.b = face.a * rnd(g, 0.88f, 1.1f);
  if (chance(g, 0.7f)) s.slab[0].side = plain(face.a);
}

HD void draw_scene(Scene& s, uint32_t seed, int W, int H, const float* around, int arounds) {
  Rng g = {hash_u32(seed * 2654435761u + 17u)};
  // 0 ordinary, 1 no container, 2 no card, 3 not round, 4 cut by the frame
  float u = rnd(g);
  int kind = u < 0.43f ? 0 : u < 0.54f ? 1 : u < 0.74f ? 2 : u < 0.89f ? 3 : 4;
  bool close = kind == 0 && chance(g, 0.2f);
  s.environment = arounds && chance(g, 0.65f) ? pick(g, arounds) : -1;
  for (int tries = 0; tries < 40; tries++) {
    try_scene(s, g, W, H, kind, close);
    if (s.has_container) {
      bool whole = within(container_box(s), W, H, 1.f);
      if (whole == (kind == 4)) continue;
      if (kind == 4 && share_inside(container_box(s), W, H) < 0.35f) continue;
      if (s.has_card && card_hidden(s)) continue;
      if (blocked(s) || body_seen(s) < 0.65f) continue;
    }
    if (s.has_card && kind != 4 && !close && !within(card_box(s), W, H, 1.f)) continue;
    if (s.has_card && kind == 4 && tries < 20 && !within(card_box(s), W, H, 1.f)) continue;
    break;
  }
  s.table = ground_paint(g);
  s.floor = ground_paint(g);
  s.mat = chance(g, 0.22f) ? 1 + chance(g, 0.3f) : 0;
  s.mat_x = 60.f * normal(g);
  s.mat_y = 60.f * normal(g);
  s.mat_turn = rnd(g, 0.f, PI);
  s.mat_w = rnd(g, 40.f, 320.f);
  s.mat_h = s.mat == 2 ? s.mat_w : s.mat_w * rnd(g, 0.5f, 1.f);
  s.mat_paint = ground_paint(g);
  s.wall = wall_paint(g);
  s.skirting = wall_paint(g);
  s.skirting_z = chance(g, 0.8f) ? -2000.f : rnd(g, 10.f, 250.f);
  // Same colour on same colour happens: white card on a white table, grey can before a grey wall.
  if (chance(g, 0.07f)) s.table = plain(V{1.f, rnd(g, 0.95f, 1.f), rnd(g, 0.88f, 1.f)} * rnd(g, 0.65f, 0.9f), rnd(g, 0.1f, 0.6f), rnd(g));
  if (s.has_card && chance(g, 0.18f)) match_card(s, g);
  if (chance(g, 0.06f)) s.paint[BODY].a = s.wall.a * rnd(g, 0.8f, 1.2f);
  if (chance(g, 0.06f)) s.paint[BODY].a = s.table.a * rnd(g, 0.8f, 1.2f);
  add_clutter(s, g, W, H);
  set_light(s, g, around);
  write_truth(s, W, H);
}

// For the truth file of a picture: how many numbers were written to out.
HD int describe_scene(const Scene& s, float* out) {
  int n = 0;
  auto put = [&](float x) { out[n++] = x; };
  auto vector = [&](V v) { put(v.x); put(v.y); put(v.z); };
  auto frame = [&](const Frame& f) { vector(f.o); vector(f.x); vector(f.y); vector(f.z); };
  const Camera& c = s.camera;
  vector(c.eye); vector(c.right); vector(c.down); vector(c.forward);
  put(c.focal); put(c.cx); put(c.cy); put(c.k1); put(c.lens_radius); put(c.focus);
  frame(s.body);
  frame(s.slab[0].frame);
  const Paint& b = s.paint[BODY];
  put(s.kind); put(s.height); put(s.max_radius); put(s.base_radius); put(b.metal); put(b.clear); put(b.pattern); put(s.label_z1 > 0);
  put(s.table.pattern); put(s.mat); put(s.mat_paint.pattern); put(s.slab[0].face.pattern);
  put(s.environment); put(s.lamps); put(s.others); put(s.body.o.z); put(s.rods); put(s.wall_y < NO_WALL); put(s.slabs + s.balls + s.drums);
  put(s.segments);
  for (int i = 0; i < s.segments; i++) { put(s.segment[i].z0); put(s.segment[i].r0); put(s.segment[i].z1); put(s.segment[i].r1); }
  return n;
}
