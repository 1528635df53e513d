// Light transport of one camera ray: reflections, glass, soft shadows, one diffuse bounce.
#pragma once
#include "trace.h"

// One measured environment, as environments.py writes it: floats in this order. Its directions have z up.
constexpr int AROUND_W = 512, AROUND_H = 256, FAR_W = 128, FAR_H = 64, AROUND_RAYS = 4096;
constexpr int AROUND_FAR = 3 * AROUND_W * AROUND_H;                  // the same out of focus
constexpr int AROUND_RAY = AROUND_FAR + 3 * FAR_W * FAR_H;           // direction and light of rays that share what exceeds the limit
constexpr int AROUND_SOFT = AROUND_RAY + 6 * AROUND_RAYS;            // 9 spherical harmonics of the rest, on a matt surface
constexpr int AROUND_LIMIT = AROUND_SOFT + 27, AROUND_FLOATS = AROUND_LIMIT + 1;

HD V to_around(const Scene& s, V d) {
  float c = cosf(s.around_turn), k = sinf(s.around_turn);
  return {(d.x * c + d.y * k) * s.around_mirror, d.y * c - d.x * k, d.z};
}
HD V from_around(const Scene& s, V d) {
  float c = cosf(s.around_turn), k = sinf(s.around_turn), x = d.x * s.around_mirror;
  return {x * c - d.y * k, x * k + d.y * c, d.z};
}
HD V around(const Scene& s, V d, bool far_away) {
  V e = to_around(s, d);
  int w = far_away ? FAR_W : AROUND_W, h = far_away ? FAR_H : AROUND_H;
  const float* map = s.around + (far_away ? AROUND_FAR : 0);
  float x = (atan2f(e.y, e.x) / (2 * PI) + 1.f) * w - 0.5f, y = clampf(acosf(clampf(e.z, -1.f, 1.f)) / PI * h - 0.5f, 0.f, h - 1.001f);
  int ix = (int)floorf(x), iy = (int)y;
  float u = x - ix, v = y - iy;
  V sum = {0, 0, 0};
  for (int k = 0; k < 4; k++) {
    const float* q = map + 3 * ((iy + (k >> 1)) * w + (ix + (k & 1)) % w);
    sum = sum + V{q[0], q[1], q[2]} * ((k & 1 ? u : 1 - u) * (k >> 1 ? v : 1 - v));
  }
  return sum * s.around_power;
}
// What a matt white surface sends back of all the light under the limit, nothing being in the way.
HD V around_soft(const Scene& s, V n) {
  V e = to_around(s, n);
  const float y[9] = {1.f, e.y, e.z, e.x, e.x * e.y, e.y * e.z, 3 * e.z * e.z - 1, e.x * e.z, e.x * e.x - e.y * e.y};
  V sum = {0, 0, 0};
  for (int i = 0; i < 9; i++) {
    const float* q = s.around + AROUND_SOFT + 3 * i;
    sum = sum + V{q[0], q[1], q[2]} * y[i];
  }
  return V{fmaxf(sum.x, 0.f), fmaxf(sum.y, 0.f), fmaxf(sum.z, 0.f)} * s.around_power;
}

HD V clipped(V e, float limit) {
  float m = fmaxf(e.x, fmaxf(e.y, e.z));
  return m > limit ? e * (limit / m) : e;
}

HD V sky(const Scene& s, V d) {
  if (s.around) return around(s, d, false);
  V c = d.z > 0 ? mix(s.sky_mid, s.sky_high, sqrtf(d.z)) : mix(s.sky_mid, s.sky_low, sqrtf(-d.z));
  float az = atan2f(d.y, d.x), el = asinf(clampf(d.z, -1.f, 1.f));
  for (int i = 0; i < s.windows; i++) {
    const Window& w = s.window[i];
    float da = az - w.azimuth;
    if (da > PI) da -= 2 * PI;
    if (da < -PI) da += 2 * PI;
    float x = fabsf(da) / w.half_width, y = fabsf(el - w.elevation) / w.half_height;
    if (x < 1 && y < 1) {
      bool bar = fabsf(x) < 0.05f || fabsf(y) < 0.04f;
      c = c + w.light * ((bar ? 0.3f : 1.f) * smoothstep(1.f, 0.9f, x) * smoothstep(1.f, 0.9f, y));
    }
  }
  return c;
}

HD V on_sphere(float u, float v) {
  float z = 1.f - 2.f * u, a = 2.f * PI * v, r = sqrtf(fmaxf(0.f, 1.f - z * z));
  return {r * cosf(a), r * sinf(a), z};
}
HD V on_sphere(Rng& g) {
  float u = rnd(g);
  return on_sphere(u, rnd(g));
}

// Share of the light from direction d that reaches p past everything nearer than `dist`.
HD float reaches(const Scene& s, V p, V n, V d, float dist) {
  Hit h;
  h.t = dist;
  V o = p + n * 0.05f;
  if (intersect(s, o, d, 0.02f, h, OPAQUE)) return 0.f;
  float seen = 1.f;
  for (int i = -1; i < s.others; i++) {
    const Solid& c = i < 0 ? (const Solid&)s : s.other[i];
    if (i < 0 && !s.has_container) continue;
    if (c.paint[BODY].clear <= 0.f) continue;
    h.t = dist;
    if (hit_solid(c, o, d, 0.3f, h)) seen *= 1.f - 0.85f * (h.z < c.fill_z ? 0.9f : 0.5f);
  }
  return seen;
}

HD V lamp_light(const Scene& s, V p, V n, Rng& g, bool shadows) {
  V sum = {0, 0, 0};
  for (int i = 0; i < s.lamps; i++) {
    const Lamp& l = s.lamp[i];
    V to = l.o + on_sphere(fract(g.lamp_u + 0.37f * i), g.lamp_v) * l.r - p;
    float dist2 = dot(to, to), dist = sqrtf(dist2);
    V d = to * (1.f / dist);
    float c = dot(n, d);
    if (c <= 0) continue;
    float seen = shadows ? reaches(s, p, n, d, dist) : 1.f;
    sum = sum + l.power * (c * seen / dist2);
  }
  if (s.around) {  // a ray from its bright places; bounce_light brings the rest
    const float* q = s.around + AROUND_RAY + 6 * ((int)(g.lamp_u * AROUND_RAYS) & (AROUND_RAYS - 1));
    V d = from_around(s, V{q[0], q[1], q[2]});
    d = unit(d + on_sphere(g.lamp_v, g.bounce_u) * 0.006f);
    float c = dot(n, d);
    float seen = c > 0 ? reaches(s, p, n, d, 1e6f) : 0.f;
    sum = sum + V{q[3], q[4], q[5]} * (c * seen * s.around_power);
  }
  return sum;
}

HD V bounce_light(const Scene& s, V p, V n, Rng& g) {
  V d = unit(n + on_sphere(g.bounce_u, g.bounce_v) * 0.999f);
  Hit h;
  h.t = 1e9f;
  if (!intersect(s, p + n * 0.05f, d, 0.02f, h)) {
    return clipped(sky(s, d), s.around ? s.around[AROUND_LIMIT] * s.around_power : 4.f);
  }
  V alb = paint_colour(*h.paint, h.u, h.v);
  V q = p + d * h.t;
  V nn = dot(h.n, d) > 0 ? -h.n : h.n;
  V amb = s.around ? around_soft(s, nn) * 0.6f : s.sky_mid * 0.6f + s.sky_high * 0.25f * fmaxf(0.f, nn.z);
  return alb * (amb + lamp_light(s, q, nn, g, s.around != nullptr) * (s.around ? 1.f : 0.6f));
}

HD float schlick(float c, float f0) {
  float k = 1.f - clampf(c, 0.f, 1.f);
  return f0 + (1.f - f0) * k * k * k * k * k;
}

HD V rough_reflect(V d, V n, float rough, Rng& g) {
  V r = unit(reflect(d, n) + on_sphere(g.bounce_u, g.bounce_v) * (rough * sqrtf(rnd(g))));
  float c = dot(r, n);
  return c < 0 ? reflect(r, n) : r;
}

// What a camera ray meets first.
struct Seen {
  const Solid* solid;
  const Slab* slab;
  int drum;
};

HD V radiance(const Scene& s, V o, V d, Rng& g, Seen& first) {
  V sum = {0, 0, 0}, thr = {1, 1, 1};
  const Solid* wet = nullptr;  // the container in whose liquid the ray is
  float tmin = 1e-3f;
  int mirrors = 0;
  bool dull = false;  // reflected by a rough surface: a lamp would be a rare white speck, so it is spread out
  V ambient = s.around ? around_soft(s, V{0, -0.7f, 0.7f}) : s.sky_mid;
  first = {nullptr, nullptr, 0};
  for (int step = 0; step < 9; step++) {
    Hit h;
    h.t = 1e9f;
    if (!intersect(s, o, d, tmin, h)) {
      sum = sum + thr * (s.around && !mirrors ? around(s, d + on_sphere(g) * s.around_blur, s.around_blur > 0.f) : s.around && dull ? clipped(around(s, d, true), 6.f) : sky(s, d));
      for (int i = 0; i < s.lamps && mirrors; i++) {
        V p = o - s.lamp[i].o;
        float B = dot(p, d), C = dot(p, p) - s.lamp[i].r * s.lamp[i].r;
        if (B < 0 && B * B > C) sum = sum + thr * s.lamp[i].power * fminf(1.f / (PI * s.lamp[i].r * s.lamp[i].r), 2e-4f);
      }
      break;
    }
    if (step == 0) first = {h.solid, h.slab, h.drum};
    tmin = 0.02f;
    V p = o + d * h.t;
    bool outside = dot(h.n, d) < 0;
    V n = outside ? h.n : -h.n;
    const Paint& q = *h.paint;
    V base = h.band ? h.solid->band_colour : paint_colour(q, h.u, h.v);
    float metal = h.band ? 0.f : q.metal, coat = h.band ? 0.2f : q.coat, rough = q.rough;
    float cosi = -dot(n, d);
    if (wet) {
      float k = h.t * 0.02f;
      thr = thr * V{expf(-k * (1 - wet->contents.x)), expf(-k * (1 - wet->contents.y)), expf(-k * (1 - wet->contents.z))};
    }
    if (h.solid && q.clear > 0.f && !h.band) {
      bool full = h.z < h.solid->fill_z;
      if (full && !h.solid->contents_clear) {
        // Opaque contents right behind the glass.
        base = h.solid->contents * (0.7f + 0.6f * fbm(h.u * 0.15f, h.v * 0.15f, q.seed, 3));
        coat = 1.f;
        rough = 0.03f;
      } else {
        if (rnd(g) < schlick(cosi, 0.05f)) {
          d = rough_reflect(d, n, q.rough, g);
          o = p + n * 0.03f;
          mirrors++;
          continue;
        }
        if (rnd(g) < q.clear) {
          float path = fminf(1.f / fmaxf(cosi, 0.08f), 8.f);
          thr = thr * V{powf(base.x, path * 0.35f), powf(base.y, path * 0.35f), powf(base.z, path * 0.35f)};
          if (full) {
            float eta = outside ? 1.f / 1.34f : 1.34f;
            float k = 1.f - eta * eta * (1.f - cosi * cosi);
            if (k < 0) d = reflect(d, n);
            else {
              d = unit(d * eta + n * (eta * cosi - sqrtf(k)));
              wet = outside ? h.solid : nullptr;
            }
          }
          o = p + d * 0.03f;
          if (q.rough > 0.05f) d = unit(d + on_sphere(g) * (q.rough * 0.8f));
          continue;
        }
        coat = 0.f;
      }
    }
    if (metal > 0.f && rnd(g) < metal) {
      float f = schlick(cosi, 0.f) * 0.7f;
      thr = thr * mix(base, V{1, 1, 1}, f);
      if (++mirrors > 3) {
        sum = sum + thr * ambient * 0.5f;
        break;
      }
      d = rough_reflect(d, n, rough, g);
      dull |= rough > 0.06f;
      o = p + n * 0.03f;
      continue;
    }
    float shine = coat * schlick(cosi, 0.04f);
    bool reflects = shine > 0.f && mirrors < 3 && rnd(g) < shine;
    if (shine > 0.f && mirrors == 0) {
      // A quarter of the paths, evenly spread, carry the reflection.
      reflects = g.gloss;
      thr = thr * (reflects ? shine / 0.25f : (1.f - shine) / 0.75f);
    }
    if (reflects) {
      d = rough_reflect(d, n, rough, g);
      dull |= rough > 0.06f;
      o = p + n * 0.03f;
      mirrors++;
      continue;
    }
    V light = lamp_light(s, p, n, g, true);
    V around = mirrors < 2 ? bounce_light(s, p, n, g) : ambient * 0.6f;
    sum = sum + thr * base * (light + around);
    break;
  }
  float m = fmaxf(sum.x, fmaxf(sum.y, sum.z));
  if (!(m < 1e6f)) return {0, 0, 0};
  return m > 8.f ? sum * (8.f / m) : sum;
}
