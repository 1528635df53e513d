// Renders batches of random scenes with their exact masks. One source for both machines:
//   g++ -O3 -march=native -fopenmp -shared -fPIC -x c++ renderer.cpp -o renderer.so
//   nvcc -O3 -use_fast_math -arch=native -shared -Xcompiler -fPIC -x cu renderer.cpp -o renderer.so
#include "light.h"
#include "scene.h"

// One pixel's planes of W * H floats: mean radiance (3), coverage of the container with all that hides it, of the card,
// of the container where it is seen, of other containers where they are seen, of pots and dishes that may be either.
constexpr int PLANES = 8;
HD void render_pixel(const Scene& s, float* out, int W, int H, int x, int y, int samples, uint32_t seed) {
  Rng g = {hash_u32(seed ^ hash_u32((uint32_t)(y * W + x) * 9781u + 3u))};
  V sum = {0, 0, 0};
  float body = 0, card = 0, seen = 0, other = 0, doubtful = 0;
  const Camera& c = s.camera;
  float turn[4] = {rnd(g), rnd(g), rnd(g), rnd(g)};
  for (int i = 0; i < samples; i++) {
    // Additive recurrences with irrational steps (Roberts' R2 for each pair).
    g.lamp_u = fract(turn[0] + i * 0.75487767f);
    g.lamp_v = fract(turn[1] + i * 0.56984029f);
    g.bounce_u = fract(turn[2] + i * 0.56984029f);
    g.bounce_v = fract(turn[3] + i * 0.75487767f);
    g.gloss = (i + (x & 1) + 2 * (y & 1)) % 4 == 0;
    float jx = (i % 4 + rnd(g)) * 0.25f - 0.5f, jy = fract((i / 4 + rnd(g)) * 4.f / samples) - 0.5f;
    V d = pixel_ray(c, x + jx, y + jy), o = c.eye;
    body += covers_container(s, o, d);
    Hit h;
    h.t = 1e9f;
    card += s.has_card && hit_slab(s.slab[0], o, d, 1e-3f, h);
    if (c.lens_radius > 0) {
      V focus = o + d * (c.focus / dot(d, c.forward));
      float a = 2 * PI * rnd(g), r = c.lens_radius * sqrtf(rnd(g));
      o = o + c.right * (r * cosf(a)) + c.down * (r * sinf(a));
      d = unit(focus - o);
    }
    Seen first;
    sum = sum + radiance(s, o, d, g, first);
    bool own = first.solid == &s || (s.square_slab >= 0 && first.slab == &s.slab[s.square_slab]);
    seen += own;
    other += first.solid && first.solid != &s;
    doubtful += first.drum;
  }
  float k = 1.f / samples;
  int n = W * H, at = y * W + x;
  out[at] = sum.x * k;
  out[n + at] = sum.y * k;
  out[2 * n + at] = sum.z * k;
  out[3 * n + at] = body * k;
  out[4 * n + at] = card * k;
  out[5 * n + at] = seen * k;
  out[6 * n + at] = other * k;
  out[7 * n + at] = doubtful * k;
}

#ifdef __CUDACC__
__global__ void draw_kernel(Scene* scenes, float* truth, const float* around, int arounds, int count, uint32_t seed, int W, int H) {
  int i = blockIdx.x * blockDim.x + threadIdx.x;
  if (i >= count) return;
  draw_scene(scenes[i], seed + i, W, H, around, arounds);
  for (int k = 0; k < TRUTHS; k++) truth[i * TRUTHS + k] = scenes[i].truth[k];
}
__global__ void __launch_bounds__(256, 2) render_kernel(const Scene* scenes, float* out, uint32_t seed, int W, int H, int samples) {
  __shared__ Scene s;
  const int* from = (const int*)&scenes[blockIdx.y];
  for (int i = threadIdx.x; i < (int)(sizeof(Scene) / 4); i += blockDim.x) ((int*)&s)[i] = from[i];
  __syncthreads();
  // 16 by 16 pixel tiles keep the rays of one block together.
  int tiles = (W + 15) / 16, x = (blockIdx.x % tiles) * 16 + threadIdx.x % 16, y = (blockIdx.x / tiles) * 16 + threadIdx.x / 16;
  if (x < W && y < H) render_pixel(s, out + (size_t)blockIdx.y * PLANES * W * H, W, H, x, y, samples, seed + blockIdx.y * 7919u);
}
extern "C" int render(void* scenes, float* truth, float* out, const float* around, int arounds, int count, uint32_t seed, int W, int H, int samples, void* stream) {
  cudaStream_t st = (cudaStream_t)stream;
  // Every scene takes another way through the code: one thread each, on a multiprocessor of its own.
  draw_kernel<<<count, 1, 0, st>>>((Scene*)scenes, truth, around, arounds, count, seed, W, H);
  dim3 grid(((W + 15) / 16) * ((H + 15) / 16), count);
  render_kernel<<<grid, 256, 0, st>>>((Scene*)scenes, out, seed, W, H, samples);
  return (int)cudaGetLastError();
}
#else
extern "C" int render(void* scenes, float* truth, float* out, const float* around, int arounds, int count, uint32_t seed, int W, int H, int samples, void*) {
  Scene* s = (Scene*)scenes;
#pragma omp parallel for schedule(dynamic)
  for (int i = 0; i < count; i++) {
    draw_scene(s[i], seed + i, W, H, around, arounds);
    for (int k = 0; k < TRUTHS; k++) truth[i * TRUTHS + k] = s[i].truth[k];
    for (int y = 0; y < H; y++)
      for (int x = 0; x < W; x++) render_pixel(s[i], out + (size_t)i * PLANES * W * H, W, H, x, y, samples, seed + i * 7919u);
  }
  return 0;
}
#endif
extern "C" int scene_bytes() { return (int)sizeof(Scene); }
extern "C" int around_floats() { return AROUND_FLOATS; }
extern "C" int describe(const void* scene, float* out) { return describe_scene(*(const Scene*)scene, out); }
