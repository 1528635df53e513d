// Light transport of one camera ray: reflections, glass, soft shadows, one diffuse bounce.
#pragma once
#include "trace.h"

HD V sky(const Scene& s, V d) {
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

HD V lamp_light(const Scene& s, V p, V n, Rng& g, bool shadows) {
  V sum = {0, 0, 0};
  for (int i = 0; i < s.lamps; i++) {
    const Lamp& l = s.lamp[i];
    V to = l.o + on_sphere(fract(g.lamp_u + 0.37f * i), g.lamp_v) * l.r - p;
    float dist2 = dot(to, to), dist = sqrtf(dist2);
    V d = to * (1.f / dist);
    float c = dot(n, d);
    if (c <= 0) continue;
    float seen = 1.f;
    if (shadows) {
      Hit h;
      h.t = dist;
      bool glass = s.has_container && s.paint[BODY].clear > 0.f;
      if (intersect(s, p + n * 0.05f, d, 0.02f, h, !glass)) continue;
      if (glass) {
        h.t = dist;
        if (hit_container(s, p + n * 0.05f, d, 0.3f, h)) seen = 1.f - 0.85f * (h.z < s.fill_z ? 0.9f : 0.5f);
      }
    }
    sum = sum + l.power * (c * seen / dist2);
  }
  return sum;
}


HD V bounce_light(const Scene& s, V p, V n, Rng& g) {
  V d = unit(n + on_sphere(g.bounce_u, g.bounce_v) * 0.999f);
  Hit h;
  h.t = 1e9f;
  if (!intersect(s, p + n * 0.05f, d, 0.02f, h)) {
    V e = sky(s, d);
    float m = fmaxf(e.x, fmaxf(e.y, e.z));
    return m > 4.f ? e * (4.f / m) : e;
  }
  V alb = paint_colour(*h.paint, h.u, h.v);
  V q = p + d * h.t;
  V nn = dot(h.n, d) > 0 ? -h.n : h.n;
  V amb = s.sky_mid * 0.6f + s.sky_high * 0.25f * fmaxf(0.f, nn.z);
  return alb * (amb + lamp_light(s, q, nn, g, false) * 0.6f);
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

HD V radiance(const Scene& s, V o, V d, Rng& g) {
  V sum = {0, 0, 0}, thr = {1, 1, 1};
  bool in_liquid = false;
  float tmin = 1e-3f;
  int mirrors = 0;
  for (int step = 0; step < 9; step++) {
    Hit h;
    h.t = 1e9f;
    if (!intersect(s, o, d, tmin, h)) {
      sum = sum + thr * sky(s, d);
      for (int i = 0; i < s.lamps && mirrors; i++) {
        V p = o - s.lamp[i].o;
        float B = dot(p, d), C = dot(p, p) - s.lamp[i].r * s.lamp[i].r;
        if (B < 0 && B * B > C) sum = sum + thr * s.lamp[i].power * fminf(1.f / (PI * s.lamp[i].r * s.lamp[i].r), 2e-4f);
      }
      break;
    }
    tmin = 0.02f;
    V p = o + d * h.t;
    bool outside = dot(h.n, d) < 0;
    V n = outside ? h.n : -h.n;
    const Paint& q = *h.paint;
    V base = h.band ? s.band_colour : paint_colour(q, h.u, h.v);
    float metal = h.band ? 0.f : q.metal, coat = h.band ? 0.2f : q.coat, rough = q.rough;
    float cosi = -dot(n, d);
    if (in_liquid) {
      float k = h.t * 0.02f;
      thr = thr * V{expf(-k * (1 - s.contents.x)), expf(-k * (1 - s.contents.y)), expf(-k * (1 - s.contents.z))};
    }
    if (h.on_container && q.clear > 0.f && !h.band) {
      bool full = h.z < s.fill_z;
      if (full && !s.contents_clear) {
        // Opaque contents right behind the glass.
        base = s.contents * (0.7f + 0.6f * fbm(h.u * 0.15f, h.v * 0.15f, q.seed, 3));
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
              in_liquid = outside;
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
        sum = sum + thr * s.sky_mid * 0.5f;
        break;
      }
      d = rough_reflect(d, n, rough, g);
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
      o = p + n * 0.03f;
      mirrors++;
      continue;
    }
    V light = lamp_light(s, p, n, g, true);
    V around = mirrors < 2 ? bounce_light(s, p, n, g) : s.sky_mid * 0.6f;
    sum = sum + thr * base * (light + around);
    break;
  }
  float m = fmaxf(sum.x, fmaxf(sum.y, sum.z));
  if (!(m < 1e6f)) return {0, 0, 0};
  return m > 8.f ? sum * (8.f / m) : sum;
}
