// What a surface looks like: colour patterns in surface millimetres, and how it reflects.
#pragma once
#include "geometry.h"

enum Pattern {
  PLAIN, MOTTLED, BANDS, DOTS, GRADIENT, STRIPES, CHECKS, WOOD, LINEN, GRID, MARBLE, BRICKS, PRINT, TERRAZZO, FLORAL, ROOM, GRAINS,
  CARD_PLAIN, CARD_BANK, CARD_STRIPE, CARD_PHOTO, CARD_LINES, CARD_SHAPES, CARD_IDENTITY, CARD_PLAYING, BOOK, PHONE, PAPER
};

struct Paint {
  V a, b, c;
  int pattern;
  float scale;
  uint32_t seed;
  float sizeU, sizeV;  // extent of the printed area, mm
  float metal, rough, coat, clear;  // clear: share of light that passes straight through (glass)
  float folds;                      // how much the light varies over the waves of a cloth
};

// 1 where a made-up glyph of a text line of height h has ink; u along the line from 0 to w.
HD float text_ink(float u, float v, float w, float h, uint32_t seed) {
  if (u < 0 || u > w || v < 0 || v > h) return 0.f;
  float cell = 0.66f * h;
  int i = (int)floorf(u / cell);
  if (hash2(i, 7, seed) < 0.14f) return 0.f;
  float fu = (u / cell - i) * 4.f, fv = v / h * 5.f;
  if (fu > 3.2f) return 0.f;
  int cu = (int)fu, cv = (int)fv;
  return hash2(i * 8 + cu, cv, seed) > 0.42f ? 1.f : 0.f;
}
HD bool inside(float u, float v, float u0, float v0, float u1, float v1) { return u > u0 && u < u1 && v > v0 && v < v1; }

HD V print_colour(const Paint& p, float u, float v) {
  float W = p.sizeU, H = p.sizeV;
  float panel = fmaxf(W / (2.f + p.seed % 3), 20.f);
  int k = (int)floorf(u / panel);
  float x = u - k * panel;
  uint32_t s = p.seed + k * 31;
  float edge = fminf(fminf(x, panel - x), fminf(v, H - v));
  V ink = p.b;
  if (p.seed % 5 < 2 && edge > 0.03f * H && edge < 0.05f * H) return ink;
  if (p.seed % 7 == 1 && v < 0.22f * H) return p.c;
  if (p.seed % 7 == 2 && v > 0.75f * H) return p.c;
  if (p.seed % 7 == 3 && hypotf(x - 0.5f * panel, v - 0.5f * H) < 0.3f * fminf(panel, H)) return p.c;
  if (p.seed % 11 == 4) { if (fbm(u * 0.06f, v * 0.06f, p.seed, 3) > 0.47f) return p.c; }
  float m = 0.1f * panel;
  if (hash2(k, 1, p.seed) < 0.75f) {
    float th = 0.16f * H * (0.6f + 0.8f * hash2(k, 2, p.seed)), v0 = H * (0.5f + 0.2f * hash2(k, 3, p.seed));
    if (text_ink(x - m, v - v0, panel - 2 * m, th, s) > 0) return ink;
    for (int l = 0; l < 4; l++)
      if (text_ink(x - m, v - v0 + 0.09f * H * (l + 1.2f), (panel - 2 * m) * (0.5f + 0.5f * hash2(l, k, s)), 0.05f * H, s + 9 + l) > 0) return ink;
  } else if (inside(x, v, m, 0.12f * H, panel - m, 0.5f * H)) {
    if (hash2((int)floorf(x * 1.4f), k, s) > 0.5f) return ink;
  }
  if (hash2(k, 5, p.seed) < 0.3f && inside(x, v, 0.55f * panel, 0.08f * H, panel - m, 0.22f * H) && hash2((int)floorf(x * 1.3f), 3, s) > 0.5f) return ink;
  return p.a;
}

// u, v: mm from the lower-left corner of the card's face (85.6 by 54).
HD V card_colour(const Paint& p, float u, float v) {
  uint32_t s = p.seed;
  float w = p.sizeU, h = p.sizeV;
  V grey = {0.5f, 0.5f, 0.5f};
  bool chip = inside(u, v, 9.f, 0.45f * h, 21.f, 0.45f * h + 9.5f);
  float chip_line = fminf(fabsf(fract(u * 0.25f) - 0.5f), fabsf(fract(v * 0.32f) - 0.5f));
  V gold = mix(V{0.78f, 0.58f, 0.22f}, V{0.8f, 0.8f, 0.78f}, hash2(1, 1, s) > 0.6f ? 1.f : 0.f);
  if (chip_line < 0.06f) gold = gold * 0.6f;
  switch (p.pattern) {
    case CARD_PLAIN:
      return p.a * (0.98f + 0.04f * noise2(u * 0.2f, v * 0.2f, s));
    case CARD_BANK: {
      float ang = hash2(2, 2, s) * 6.28f, t = 0.5f + ((u - w / 2) * cosf(ang) + (v - h / 2) * sinf(ang)) / w;
      V col = mix(p.a, p.b, clampf(t, 0.f, 1.f));
      if (hash2(3, 3, s) < 0.5f) {
        float r = hypotf(u - w * (0.4f + 0.5f * hash2(4, 4, s)), v - h * (0.5f + 0.8f * hash2(5, 5, s)));
        if (fract(r / 5.f) < 0.1f && r < 45.f) col = mix(col, p.c, 0.6f);
      }
      if (hash2(3, 4, s) < 0.3f && hypotf(u - w + 14, v - 12) < 8.f) col = p.c;
      if (hash2(6, 6, s) < 0.85f && chip) return gold;
      V ink = p.c;
      if (text_ink(u - 8, v - 0.3f * h, 60, 4.2f, s) > 0 || text_ink(u - 8, v - 0.13f * h, 30, 2.6f, s + 1) > 0 || text_ink(u - 55, v - 0.13f * h, 14, 2.4f, s + 2) > 0) return ink;
      if (hash2(7, 7, s) < 0.6f && text_ink(u - 8, v - 0.84f * h, 28, 5.f, s + 3) > 0) return ink;
      return col;
    }
    case CARD_STRIPE: {
      float v0 = h * (0.62f + 0.16f * hash2(1, 2, s));
      if (v > v0 && v < v0 + 11.f) return p.b * 0.25f;
      if (inside(u, v, 6, 0.38f * h, 58, 0.52f * h)) return text_ink(u - 8, v - 0.42f * h, 40, 3.f, s) > 0 ? grey * 0.3f : V{0.85f, 0.85f, 0.8f};
      if (v < 6.f && v > 4.f) return p.c;
      if (text_ink(u - 8, v - 0.2f * h, 55, 2.2f, s + 2) > 0 || text_ink(u - 8, v - 0.13f * h, 62, 1.8f, s + 3) > 0) return grey * 0.3f;
      return p.a;
    }
    case CARD_PHOTO: {
      float k = 0.04f + 0.08f * hash2(1, 5, s);
      float r = fbm(u * k, v * k, s, 4), g = fbm(u * k, v * k, s + 50, 4), b = fbm(u * k + 9, v * k, s + 90, 4);
      V col = mix(p.a, p.b, smoothstep(0.3f, 0.6f, r)) * (0.5f + g);
      col = mix(col, p.c, smoothstep(0.5f, 0.62f, b));
      if (hash2(6, 6, s) < 0.5f && chip) return gold;
      if (text_ink(u - 8, v - 0.26f * h, 62, 4.2f, s) > 0) return V{0.9f, 0.9f, 0.9f};
      return col;
    }
    case CARD_LINES: {
      float ang = hash2(2, 2, s) * 3.14f, period = 4.f + 18.f * hash2(3, 2, s);
      float t = (u * cosf(ang) + v * sinf(ang)) / period;
      V col = fract(t) < 0.5f ? p.a : p.b;
      if (hash2(4, 2, s) < 0.5f && ((int)floorf(t)) % 3 == 0) col = p.c;
      if (hash2(6, 6, s) < 0.4f && chip) return gold;
      if (hash2(5, 2, s) < 0.5f && inside(u, v, 5, 5, 55, 20)) return text_ink(u - 8, v - 9, 44, 5, s) > 0 ? grey * 0.2f : V{0.9f, 0.9f, 0.9f};
      return col;
    }
    case CARD_SHAPES: {
      V col = p.a;
      for (int i = 0; i < 4; i++) {
        float cx = w * hash2(i, 1, s), cy = h * hash2(i, 2, s), r = 6.f + 26.f * hash2(i, 3, s);
        bool in = hash2(i, 4, s) < 0.5f ? hypotf(u - cx, v - cy) < r : (fabsf(u - cx) < r && fabsf(v - cy) < 0.5f * r);
        if (in) col = i % 2 ? p.b : p.c;
      }
      if (text_ink(u - 8, v - 0.7f * h, 50, 8.f, s) > 0) return V{0.95f, 0.95f, 0.95f};
      return col;
    }
    default: {  // CARD_IDENTITY
      if (v > 0.78f * h) return text_ink(u - 6, v - 0.84f * h, 50, 5.f, s) > 0 ? V{0.95f, 0.95f, 0.95f} : p.b;
      if (inside(u, v, 6, 8, 28, 38)) return mix(grey, p.c, fbm(u * 0.2f, v * 0.2f, s, 3));
      for (int l = 0; l < 5; l++)
        if (text_ink(u - 33, v - (8.f + 6.f * l), 25.f + 20.f * hash2(l, 1, s), 2.8f, s + l) > 0) return grey * 0.3f;
      return p.a;
    }
  }
}

HD V wood_colour(const Paint& p, float u, float v) {
  float plank = 60.f * p.scale;
  int k = (int)floorf(v / plank);
  float off = hash2(k, 3, p.seed) * 3000.f, len = 900.f;
  int seg = (int)floorf((u + off) / len);
  uint32_t s = p.seed + k * 13 + seg * 7;
  float ring = fbm(u * 0.004f + off, v * 0.06f / p.scale, s, 4) * 14.f + v * 0.05f;
  float grain = 0.5f + 0.5f * sinf(ring * 2.4f);
  float fine = noise2(u * 0.05f, v * 1.3f, s + 5);
  V col = mix(p.a, p.b, clampf(0.62f * grain + 0.38f * fine, 0.f, 1.f)) * (0.82f + 0.36f * hash2(k, seg, p.seed + 1));
  float gap = fminf(fract(v / plank), 1.f - fract(v / plank)) * plank;
  if (p.seed % 3 && gap < 0.9f) col = col * 0.3f;
  return col;
}

HD V pattern_colour(const Paint& p, float u, float v) {
  float s = p.scale;
  switch (p.pattern) {
    case PLAIN: return p.a;
    case MOTTLED: return mix(p.a, p.b, smoothstep(0.25f, 0.7f, fbm(u * 0.12f / s, v * 0.12f / s, p.seed, 4)));
    case BANDS: return fract(v / (14.f * s)) < 0.5f ? p.a : p.b;
    case DOTS: {
      float q = 7.f * s, x = fract(u / q) - 0.5f, y = fract(v / q) - 0.5f;
      return x * x + y * y < 0.09f ? p.b : p.a;
    }
    case GRADIENT: return mix(p.a, p.b, clampf(v / fmaxf(p.sizeV, 1.f), 0.f, 1.f));
    case STRIPES: {
      float t = fract(u / (22.f * s));
      return t < 0.4f ? p.a : (t < 0.5f ? p.c : p.b);
    }
    case CHECKS: {
      float x = fract(u / (30.f * s)), y = fract(v / (30.f * s));
      float weave = 0.94f + 0.12f * noise2(u * 1.5f, v * 1.5f, p.seed);
      if (p.seed % 2) return (((x < 0.5f) != (y < 0.5f)) ? p.a : p.b) * weave;
      float k = 0.5f * (x < 0.5f) + 0.5f * (y < 0.5f);
      return mix(p.a, p.b, k) * weave;
    }
    case WOOD: return wood_colour(p, u, v);
    case LINEN: {
      float t = noise2(u * 0.9f / s, v * 0.14f / s, p.seed) + noise2(u * 0.14f / s, v * 0.9f / s, p.seed + 3);
      return mix(p.a, p.b, clampf(0.5f + 0.6f * (t - 1.f) + 0.5f * (fbm(u * 0.01f, v * 0.01f, p.seed + 8, 3) - 0.45f), 0.f, 1.f));
    }
    case GRID: {
      float q = 10.f * s, x = fminf(fract(u / q), 1 - fract(u / q)) * q, y = fminf(fract(v / q), 1 - fract(v / q)) * q;
      float Q = 5.f * q, X = fminf(fract(u / Q), 1 - fract(u / Q)) * Q, Y = fminf(fract(v / Q), 1 - fract(v / Q)) * Q;
      if (X < 0.7f || Y < 0.7f) return p.b;
      if (x < 0.35f || y < 0.35f) return mix(p.a, p.b, 0.7f);
      return p.a;
    }
    case MARBLE: {
      float t = fbm(u * 0.008f / s, v * 0.008f / s, p.seed, 5) * 6.f + (u + v) * 0.004f / s;
      float vein = 1.f - fabsf(fract(t) - 0.5f) * 2.f;
      return mix(p.a, p.b, powf(vein, 6.f) * 0.8f + 0.25f * fbm(u * 0.02f, v * 0.02f, p.seed + 4, 3));
    }
    case BRICKS: {
      float bw = 120.f * s, bh = 50.f * s;
      int row = (int)floorf(v / bh);
      float x = u + (row & 1) * bw * 0.5f;
      int col = (int)floorf(x / bw);
      float e = fminf(fminf(fract(x / bw), 1 - fract(x / bw)) * bw, fminf(fract(v / bh), 1 - fract(v / bh)) * bh);
      if (e < 3.f * s) return p.b;
      return p.a * (0.75f + 0.5f * hash2(row, col, p.seed)) * (0.85f + 0.3f * noise2(u * 0.1f, v * 0.1f, p.seed));
    }
    case PRINT: return print_colour(p, u, v);
    case TERRAZZO: {
      float q = 9.f * s;
      int i = (int)floorf(u / q), j = (int)floorf(v / q);
      float cx = (i + 0.2f + 0.6f * hash2(i, j, p.seed)) * q, cy = (j + 0.2f + 0.6f * hash2(i, j, p.seed + 1)) * q;
      float r = q * (0.08f + 0.32f * hash2(i, j, p.seed + 2));
      if (fabsf(u - cx) + fabsf(v - cy) * (0.6f + hash2(i, j, p.seed + 4)) < r) return hash2(i, j, p.seed + 3) < 0.5f ? p.b : p.c;
      return p.a;
    }
    case FLORAL: {
      float q = 60.f * s, x = fract(u / q) - 0.5f, y = fract(v / q) - 0.5f;
      float r = hypotf(x, y), th = atan2f(y, x), petal = 0.3f + 0.1f * cosf((5 + p.seed % 4) * th);
      if (r < 0.1f) return p.c;
      if (r < petal && r > 0.14f) return p.b;
      if (fabsf(sinf(8.f * x) * sinf(9.f * y)) > 0.86f) return p.c;
      return p.a * (0.9f + 0.2f * noise2(u, v, p.seed));
    }
    case ROOM: {  // a far room, out of focus: patches of three colours
      float q = 150.f * s, x = u / q + 1.5f * fbm(u / q, v / q, p.seed, 2), y = v / q + 1.5f * fbm(v / q, u / q, p.seed + 7, 2);
      float k = hash2((int)floorf(x), (int)floorf(y), p.seed);
      return (k < 0.45f ? p.a : k < 0.75f ? p.b : p.c) * (0.5f + fbm(u / q, v / q, p.seed + 9, 3));
    }
    case GRAINS: {
      float q = 2.5f * s, k = noise2(u / q, v / q, p.seed) * 0.6f + noise2(u / (4 * q), v / (0.7f * q), p.seed + 5) * 0.4f;
      return k < 0.5f ? mix(p.b, p.a, smoothstep(0.15f, 0.5f, k)) : mix(p.a, p.c, smoothstep(0.55f, 0.85f, k));
    }
    case BOOK: {
      if (inside(u, v, 0.1f * p.sizeU, 0.6f * p.sizeV, 0.9f * p.sizeU, 0.85f * p.sizeV))
        return text_ink(u - 0.14f * p.sizeU, v - 0.65f * p.sizeV, 0.7f * p.sizeU, 0.13f * p.sizeV, p.seed) > 0 ? p.b : p.a;
      if (p.seed % 2 && v < 0.45f * p.sizeV) return mix(p.c, p.b, smoothstep(0.4f, 0.5f, fbm(u * 0.04f, v * 0.04f, p.seed, 3)));
      return p.a;
    }
    case PHONE: {
      float e = fminf(fminf(u, p.sizeU - u), fminf(v, p.sizeV - v));
      if (e < 3.f) return p.b;
      return p.a;
    }
    case PAPER: {
      float l = fract(v / 7.f) * 7.f;
      if (u > 8 && u < p.sizeU - 8 && v > 8 && v < p.sizeV - 8 && p.seed % 3 && text_ink(u - 8, l - 1.5f, p.sizeU - 16, 3.f, p.seed + (int)floorf(v / 7.f)) > 0) return p.b;
      return p.a;
    }
    case CARD_PLAYING: {
      float e = fminf(fminf(u, p.sizeU - u), fminf(v, p.sizeV - v));
      if (e < 4.f) return p.a;
      float x = fract(u / 14.f) - 0.5f, y = fract(v / 17.f) - 0.5f;
      if (p.seed % 2) return fabsf(x) + fabsf(y) < 0.3f ? p.b : p.a;
      return ((int)floorf(u / 3.f) + (int)floorf(v / 3.f)) & 1 ? p.b : p.c;
    }
    default: return card_colour(p, u, v);
  }
}

HD V paint_colour(const Paint& p, float u, float v) {
  V colour = pattern_colour(p, u, v);
  return p.folds > 0.f ? colour * (1.f - p.folds + 2.f * p.folds * fbm(u * 0.012f, v * 0.012f, p.seed + 77, 3)) : colour;
}
