// Vectors, random numbers and value noise, for host and device alike.
#pragma once
#include <cmath>
#include <cstdint>

#ifdef __CUDACC__
#define HD __host__ __device__ inline
#else
#define HD inline
#endif

constexpr float PI = 3.14159265f;

struct V {
  float x, y, z;
};
HD V operator+(V a, V b) { return {a.x + b.x, a.y + b.y, a.z + b.z}; }
HD V operator-(V a, V b) { return {a.x - b.x, a.y - b.y, a.z - b.z}; }
HD V operator-(V a) { return {-a.x, -a.y, -a.z}; }
HD V operator*(V a, float k) { return {a.x * k, a.y * k, a.z * k}; }
HD V operator*(float k, V a) { return a * k; }
HD V operator*(V a, V b) { return {a.x * b.x, a.y * b.y, a.z * b.z}; }
HD float dot(V a, V b) { return a.x * b.x + a.y * b.y + a.z * b.z; }
HD V cross(V a, V b) { return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x}; }
HD float length(V a) { return sqrtf(dot(a, a)); }
HD V unit(V a) { return a * (1.f / sqrtf(dot(a, a) + 1e-20f)); }
HD V mix(V a, V b, float t) { return a * (1.f - t) + b * t; }
HD V reflect(V d, V n) { return d - n * (2.f * dot(d, n)); }
HD float clampf(float x, float a, float b) { return x < a ? a : (x > b ? b : x); }
HD float smoothstep(float a, float b, float x) {
  float t = clampf((x - a) / (b - a), 0.f, 1.f);
  return t * t * (3.f - 2.f * t);
}
HD float fract(float x) { return x - floorf(x); }

// Position and three unit axes of a body in the world, mm.
struct Frame {
  V o, x, y, z;
};
HD V to_local_dir(const Frame& f, V d) { return {dot(d, f.x), dot(d, f.y), dot(d, f.z)}; }
HD V to_local(const Frame& f, V p) { return to_local_dir(f, p - f.o); }
HD V to_world_dir(const Frame& f, V d) { return f.x * d.x + f.y * d.y + f.z * d.z; }
HD V to_world(const Frame& f, V p) { return f.o + to_world_dir(f, p); }

// Hash-based random stream (integer mixing after M. O'Neill's PCG output function).
// lamp_* and bounce_*: evenly spread numbers for the first lamp and bounce sample of a path, which keeps pictures clean.
struct Rng {
  uint32_t state;
  float lamp_u = 0, lamp_v = 0, bounce_u = 0, bounce_v = 0;
  bool gloss = false;  // this path shows the reflection in the first coat it meets
};
HD uint32_t hash_u32(uint32_t v) {
  v = v * 747796405u + 2891336453u;
  uint32_t w = ((v >> ((v >> 28u) + 4u)) ^ v) * 277803737u;
  return (w >> 22u) ^ w;
}
HD float rnd(Rng& g) {
  g.state = g.state * 747796405u + 2891336453u;
  return (hash_u32(g.state) >> 8) * (1.f / 16777216.f);
}
HD float rnd(Rng& g, float a, float b) { return a + (b - a) * rnd(g); }
HD bool chance(Rng& g, float p) { return rnd(g) < p; }
HD int pick(Rng& g, int n) {
  int i = (int)(rnd(g) * n);
  return i < n ? i : n - 1;
}
HD float normal(Rng& g) {
  float u = rnd(g) + 1e-7f, v = rnd(g);
  return sqrtf(-2.f * logf(u)) * cosf(2.f * PI * v);
}

HD float hash2(int x, int y, uint32_t seed) {
  return (hash_u32((uint32_t)x * 0x9E3779B1u ^ hash_u32((uint32_t)y + seed * 0x85EBCA6Bu)) >> 8) * (1.f / 16777216.f);
}
HD float noise2(float x, float y, uint32_t seed) {
  float fx = floorf(x), fy = floorf(y);
  int ix = (int)fx, iy = (int)fy;
  float u = x - fx, v = y - fy;
  u = u * u * (3.f - 2.f * u);
  v = v * v * (3.f - 2.f * v);
  float a = hash2(ix, iy, seed), b = hash2(ix + 1, iy, seed), c = hash2(ix, iy + 1, seed), d = hash2(ix + 1, iy + 1, seed);
  return (a * (1 - u) + b * u) * (1 - v) + (c * (1 - u) + d * u) * v;
}
HD float fbm(float x, float y, uint32_t seed, int octaves) {
  float sum = 0.f, amp = 0.5f;
  for (int i = 0; i < octaves; i++) {
    sum += amp * noise2(x, y, seed + i);
    x *= 2.03f;
    y *= 2.03f;
    amp *= 0.5f;
  }
  return sum;
}
