// Scene description and exact ray intersection. World: mm, z up, table top at z = 0, the camera looks roughly along +y.
#pragma once
#include "paint.h"

constexpr int MAX_SEGMENTS = 72, MAX_OTHERS = 3, MAX_SLABS = 14, MAX_BALLS = 5, MAX_DRUMS = 18, MAX_RODS = 32, MAX_WINDOWS = 5, TRUTHS = 32;

// One cone frustum of the container's surface: (z0, r0) to (z1, r1) with smooth normals at both ends.
struct Segment {
  float z0, r0, z1, r1;
  float nz0, nr0, nz1, nr1;
  int paint;
};
struct Slab {
  Frame frame;  // origin at the centre
  V half;
  float corner;  // radius of the rounded corners of the +z and -z faces
  Paint face, side;
};
struct Ball {
  V o;
  float r;
  Paint paint;
};
struct Drum {  // upright cylinder or cone frustum standing on height z
  float x, y, z, height, r0, r1;
  Paint side, top;
  float sunk;  // how far its floor lies below the rim: a dish; 0 for a solid one
};
struct Rod {  // capsule
  V a, b;
  float r;
  Paint paint;
};
struct Lamp {
  V o;
  float r;
  V power;
};
struct Window {
  float azimuth, elevation, half_width, half_height;
  V light;
};
struct Camera {
  V eye, right, down, forward;
  float focal, cx, cy, k1;
  float lens_radius, focus;
};
enum { BODY, CAP, INNER, ACCENT, LABEL, CONTAINER_PAINTS };

// A surface of revolution: a container. Its own frame has the base's centre as origin and the axis as z.
struct Solid {
  int kind, segments;
  Frame body;
  float squeeze;  // second axis scaled by this for oval bottles, 1 otherwise
  float height, max_radius;
  float base_radius;  // the wall extended to the base, before the edge is rounded
  Segment segment[MAX_SEGMENTS];
  Paint paint[CONTAINER_PAINTS];
  float label_z0, label_z1, label_az0, label_az1;
  float fill_z;  // height of the contents of a clear container
  V contents;
  int contents_clear;
  float band_z0, band_z1;  // rubber band round the container
  V band_colour;
  float ripple, ripple_length;  // rings pressed into the wall: they tilt the normal only
};

// The scene's own solid is the container that is meant.
struct Scene : Solid {
  int has_container, round, square_slab;  // square_slab: index of the box body of a square bottle, or -1
  float foot_radius;                      // of the container and the dish it stands on
  int others;                             // further containers
  Solid other[MAX_OTHERS];
  // card is slab 0
  int has_card, card_near_table, slabs, balls, drums, rods;
  Slab slab[MAX_SLABS];
  Ball ball[MAX_BALLS];
  Drum drum[MAX_DRUMS];
  Rod rod[MAX_RODS];
  Paint table, wall, floor, skirting;
  // a mat or cloth under it all: a rectangle or disc of the table in other colours
  int mat;  // 0 none, 1 rectangle, 2 disc
  float mat_x, mat_y, mat_turn, mat_w, mat_h;
  Paint mat_paint;
  float table_back, wall_y, skirting_z;
  // light
  int lamps, windows;
  Lamp lamp[2];
  Window window[MAX_WINDOWS];
  V sky_low, sky_mid, sky_high;
  const float* around;  // measured light (see light.h) in place of the sky and windows, or null
  int environment, open;  // which; open: its lower half is seen where the table ends
  float around_turn, around_mirror, around_power, around_blur;
  Camera camera;
  // truth
  int arrangement;  // 0 standing, 1 lying, 2 card-on-front, 3 card-leaning
  float truth[TRUTHS];
};

struct Hit {
  float t;
  V n;
  float u, v;
  const Paint* paint;
  const Solid* solid;  // the container hit, null for anything else
  const Slab* slab;
  int drum;  // a pot or dish, which may pass for a container
  int band;
  float z;  // height in the container frame
};

HD bool hit_solid(const Solid& s, V o, V d, float tmin, Hit& h) {
  V lo = to_local(s.body, o), ld = to_local_dir(s.body, d);
  float k = 1.f / s.squeeze;
  lo.y *= k;
  ld.y *= k;
  // Solve near the container: large coordinates would cost float precision.
  V c = {0, 0, 0.5f * s.height};
  float shift = dot(c - lo, ld) / dot(ld, ld);
  V p = lo + ld * shift;
  float a2 = ld.x * ld.x + ld.y * ld.y;
  float R = s.max_radius * 1.01f + 0.1f;
  {
    float b = p.x * ld.x + p.y * ld.y, cc = p.x * p.x + p.y * p.y - R * R;
    if (a2 > 1e-9f) {
      float disc = b * b - a2 * cc;
      if (disc < 0) return false;
    } else if (cc > 0) return false;
    V q = p;
    float half = 0.5f * s.height + R;
    float dist2 = dot(q - c, q - c);
    if (dist2 > half * half) return false;
  }
  float best = h.t;
  int which = -1;
  float bz = 0, bw = 0;
  for (int i = 0; i < s.segments; i++) {
    const Segment& g = s.segment[i];
    float dz = g.z1 - g.z0, dr = g.r1 - g.r0;
    if (fabsf(dz) < 2e-3f * fabsf(dr) + 1e-4f) {
      if (fabsf(ld.z) < 1e-7f) continue;
      float t = (g.z0 - p.z) / ld.z;
      float x = p.x + t * ld.x, y = p.y + t * ld.y, r = sqrtf(x * x + y * y);
      float lo_r = fminf(g.r0, g.r1), hi_r = fmaxf(g.r0, g.r1);
      if (r < lo_r || r > hi_r) continue;
      float tt = t + shift;
      if (tt > tmin && tt < best) {
        best = tt;
        which = i;
        bz = g.z0;
        bw = clampf((r - g.r0) / dr, 0.f, 1.f);
      }
      continue;
    }
    float m = dr / dz, a0 = g.r0 - m * g.z0;
    float w = a0 + m * p.z;
    float A = a2 - m * m * ld.z * ld.z, B = p.x * ld.x + p.y * ld.y - m * ld.z * w, C = p.x * p.x + p.y * p.y - w * w;
    float disc = B * B - A * C;
    if (disc < 0 || fabsf(A) < 1e-12f) continue;
    float root = sqrtf(disc);
    for (int side = 0; side < 2; side++) {
      float t = (-B + (side ? root : -root)) / A;
      float z = p.z + t * ld.z;
      float f = (z - g.z0) / dz;
      if (f < 0.f || f > 1.f || a0 + m * z < 0.f) continue;
      float tt = t + shift;
      if (tt > tmin && tt < best) {
        best = tt;
        which = i;
        bz = z;
        bw = f;
      }
    }
  }
  if (which < 0) return false;
  const Segment& g = s.segment[which];
  V q = p + ld * (best - shift);
  float r = fmaxf(sqrtf(q.x * q.x + q.y * q.y), 1e-4f);
  float nz = g.nz0 + bw * (g.nz1 - g.nz0), nr = g.nr0 + bw * (g.nr1 - g.nr0);
  if (s.ripple > 0.f && g.paint == BODY) nz += s.ripple * sinf(2.f * PI * bz / s.ripple_length);
  V n = unit(V{q.x / r * nr, q.y / r * nr * k, nz});
  h.t = best;
  h.n = to_world_dir(s.body, n);
  float az = atan2f(q.y, q.x);
  h.u = az * r;
  h.v = bz;
  h.z = bz;
  h.solid = &s;
  h.slab = nullptr;
  h.drum = 0;
  h.band = 0;
  h.paint = &s.paint[g.paint];
  if (g.paint == BODY) {
    if (bz > s.label_z0 && bz < s.label_z1 && az > s.label_az0 && az < s.label_az1) {
      h.paint = &s.paint[LABEL];
      h.u = (az - s.label_az0) * s.max_radius;
      h.v = bz - s.label_z0;
    }
  }
  if (bz > s.band_z0 && bz < s.band_z1) h.band = 1;
  return true;
}

HD bool hit_slab(const Slab& b, V o, V d, float tmin, Hit& h) {
  V lo = to_local(b.frame, o), ld = to_local_dir(b.frame, d);
  float t0 = -1e30f, t1 = 1e30f;
  int axis = 0;
  float sign = 1.f;
  const float* po = &lo.x;
  const float* pd = &ld.x;
  const float* ph = &b.half.x;
  for (int i = 0; i < 3; i++) {
    float inv = 1.f / (fabsf(pd[i]) < 1e-9f ? 1e-9f : pd[i]);
    float near = (-ph[i] - po[i]) * inv, far = (ph[i] - po[i]) * inv;
    float sg = -1.f;
    if (near > far) {
      float x = near;
      near = far;
      far = x;
      sg = 1.f;
    }
    if (near > t0) {
      t0 = near;
      axis = i;
      sign = sg;
    }
    t1 = fminf(t1, far);
  }
  if (t0 > t1 || t0 < tmin || t0 > h.t) return false;
  V q = lo + ld * t0;
  if (b.corner > 0.f) {
    float cx = fabsf(q.x) - (b.half.x - b.corner), cy = fabsf(q.y) - (b.half.y - b.corner);
    if (cx > 0 && cy > 0 && cx * cx + cy * cy > b.corner * b.corner) return false;
  }
  h.t = t0;
  h.n = (axis == 0 ? b.frame.x : axis == 1 ? b.frame.y : b.frame.z) * sign;
  h.paint = axis == 2 ? &b.face : &b.side;
  h.u = axis == 0 ? q.y + b.half.y : q.x + b.half.x;
  h.v = axis == 2 ? q.y + b.half.y : q.z + b.half.z;
  h.solid = nullptr;
  h.slab = &b;
  h.drum = 0;
  h.band = 0;
  return true;
}

HD bool hit_ball(const Ball& b, V o, V d, float tmin, Hit& h) {
  V p = o - b.o;
  float B = dot(p, d), C = dot(p, p) - b.r * b.r, disc = B * B - C;
  if (disc < 0) return false;
  float t = -B - sqrtf(disc);
  if (t < tmin || t > h.t) return false;
  V q = o + d * t;
  h.t = t;
  h.n = (q - b.o) * (1.f / b.r);
  h.paint = &b.paint;
  h.u = atan2f(h.n.y, h.n.x) * b.r;
  h.v = h.n.z * b.r;
  h.solid = nullptr;
  h.slab = nullptr;
  h.drum = 0;
  h.band = 0;
  return true;
}

HD bool hit_drum(const Drum& b, V o, V d, float tmin, Hit& h) {
  V p = {o.x - b.x, o.y - b.y, o.z - b.z};
  float shift = -(p.x * d.x + p.y * d.y + (p.z - 0.5f * b.height) * d.z);
  p = p + d * shift;
  float m = (b.r1 - b.r0) / b.height, w = b.r0 + m * p.z;
  float A = d.x * d.x + d.y * d.y - m * m * d.z * d.z, B = p.x * d.x + p.y * d.y - m * d.z * w, C = p.x * p.x + p.y * p.y - w * w;
  float disc = B * B - A * C;
  bool found = false;
  if (disc > 0 && fabsf(A) > 1e-12f) {
    float root = sqrtf(disc);
    for (int side = 0; side < 2; side++) {
      float t = (-B + (side ? root : -root)) / A, z = p.z + t * d.z, tt = t + shift;
      if (z < 0 || z > b.height || tt < tmin || tt > h.t) continue;
      V q = p + d * t;
      float r = fmaxf(b.r0 + m * z, 1e-3f);
      h.t = tt;
      h.n = unit(V{q.x / r, q.y / r, -m});
      h.u = atan2f(q.y, q.x) * r;
      h.v = z;
      h.paint = &b.side;
      found = true;
    }
  }
  if (fabsf(d.z) > 1e-7f) {
    float t = (b.height - b.sunk - p.z) / d.z, tt = t + shift, x = p.x + t * d.x, y = p.y + t * d.y, r = b.r1 - m * b.sunk;
    if (tt > tmin && tt < h.t && x * x + y * y < r * r) {
      h.t = tt;
      h.n = V{0, 0, 1};
      h.u = x;
      h.v = y;
      h.paint = x * x + y * y > 0.8f * r * r ? &b.side : &b.top;
      found = true;
    }
  }
  if (found) {
    h.solid = nullptr;
    h.slab = nullptr;
    h.drum = b.height > 15.f;
    h.band = 0;
  }
  return found;
}

HD bool hit_rod(const Rod& c, V o, V d, float tmin, Hit& h) {
  V ba = c.b - c.a, oa = o - c.a;
  float baba = dot(ba, ba), bard = dot(ba, d), baoa = dot(ba, oa), rdoa = dot(d, oa), oaoa = dot(oa, oa);
  float a = baba - bard * bard, b = baba * rdoa - baoa * bard, cc = baba * oaoa - baoa * baoa - c.r * c.r * baba;
  float disc = b * b - a * cc, t = -1.f, y = 0;
  if (disc < 0) return false;
  t = (-b - sqrtf(disc)) / a;
  y = baoa + t * bard;
  if (y < 0 || y > baba) {
    V oc = y <= 0 ? oa : o - c.b;
    float B = dot(d, oc), C = dot(oc, oc) - c.r * c.r, D = B * B - C;
    if (D < 0) return false;
    t = -B - sqrtf(D);
    y = y <= 0 ? 0 : baba;
  }
  if (t < tmin || t > h.t) return false;
  V q = o + d * t, on = c.a + ba * (y / baba);
  h.t = t;
  h.n = unit(q - on);
  h.paint = &c.paint;
  h.u = q.x + q.z;
  h.v = y / sqrtf(baba);
  h.solid = nullptr;
  h.slab = nullptr;
  h.drum = 0;
  h.band = 0;
  return true;
}

HD bool on_mat(const Scene& s, V p) {
  float x = p.x - s.mat_x, y = p.y - s.mat_y, c = cosf(s.mat_turn), k = sinf(s.mat_turn);
  float u = (x * c + y * k) / s.mat_w, v = (y * c - x * k) / s.mat_h;
  return s.mat == 2 ? u * u + v * v < 1.f : fabsf(u) < 1.f && fabsf(v) < 1.f;
}

enum Solids { ALL, OPAQUE, NONE };

HD bool intersect(const Scene& s, V o, V d, float tmin, Hit& h, Solids solids = ALL) {
  bool any = false;
  if (d.z < 0) {
    float t = -o.z / d.z;
    V q = o + d * t;
    if (t > tmin && t < h.t && q.y < s.table_back) {
      h.t = t;
      h.n = V{0, 0, 1};
      h.paint = s.mat && on_mat(s, q) ? &s.mat_paint : &s.table;
      h.u = q.x;
      h.v = q.y;
      any = true;
    } else {
      t = (-750.f - o.z) / d.z;
      if (!s.open && t > tmin && t < h.t && o.z > -750.f) {
        h.t = t;
        h.n = V{0, 0, 1};
        h.paint = &s.floor;
        h.u = o.x + d.x * t;
        h.v = o.y + d.y * t;
        any = true;
      }
    }
  }
  if (d.y > 1e-6f && o.y < s.wall_y) {
    float t = (s.wall_y - o.y) / d.y, z = o.z + d.z * t;
    if (t > tmin && t < h.t && z < 1600.f) {
      h.t = t;
      h.n = V{0, -1, 0};
      h.u = o.x + d.x * t;
      h.v = z + 750.f;
      h.paint = z < s.skirting_z ? &s.skirting : &s.wall;
      any = true;
    }
  }
  if (any) {
    h.solid = nullptr;
    h.slab = nullptr;
    h.drum = 0;
    h.band = 0;
  }
  for (int i = s.has_card ? 0 : 1; i < s.slabs; i++) any |= hit_slab(s.slab[i], o, d, tmin, h);
  for (int i = 0; i < s.balls; i++) any |= hit_ball(s.ball[i], o, d, tmin, h);
  for (int i = 0; i < s.drums; i++) any |= hit_drum(s.drum[i], o, d, tmin, h);
  for (int i = 0; i < s.rods; i++) any |= hit_rod(s.rod[i], o, d, tmin, h);
  if (solids == NONE) return any;
  if (s.has_container && (solids == ALL || s.paint[BODY].clear <= 0.f)) any |= hit_solid(s, o, d, tmin, h);
  for (int i = 0; i < s.others; i++)
    if (solids == ALL || s.other[i].paint[BODY].clear <= 0.f) any |= hit_solid(s.other[i], o, d, tmin, h);
  return any;
}

HD bool covers_container(const Scene& s, V o, V d) {
  if (!s.has_container) return false;
  Hit h;
  h.t = 1e9f;
  if (hit_solid(s, o, d, 1e-3f, h)) return true;
  return s.square_slab >= 0 && hit_slab(s.slab[s.square_slab], o, d, 1e-3f, h);
}

HD bool project(const Camera& c, V p, float& u, float& v) {
  V q = p - c.eye;
  float z = dot(q, c.forward);
  if (z < 1.f) {
    u = v = -1e6f;
    return false;
  }
  float x = dot(q, c.right) / z, y = dot(q, c.down) / z, k = 1.f + c.k1 * (x * x + y * y);
  u = c.focal * x * k + c.cx;
  v = c.focal * y * k + c.cy;
  return true;
}

HD V pixel_ray(const Camera& c, float u, float v) {
  float xd = (u - c.cx) / c.focal, yd = (v - c.cy) / c.focal, x = xd, y = yd;
  for (int i = 0; i < 8; i++) {
    float k = 1.f + c.k1 * (x * x + y * y);
    x = xd / k;
    y = yd / k;
  }
  return unit(c.forward + c.right * x + c.down * y);
}
