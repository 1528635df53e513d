// Path-traces containers beside a 2 euro coin, with their truth: scenes of the network's generator with a coin in the
// card's place. make-coin-samples.ts builds and runs it: coin-photos FOLDER FIRST_SEED COUNT LONG_SIDE SAMPLES
// writes (lying|standing)-SEED.ppm and .json.
#include <algorithm>
#include "../../vision/outline-model/training/renderer.cpp"

#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

constexpr float COIN_R = 12.875f, COIN_T = 2.2f;
constexpr int RIM = 48;

V rim_point(V middle, int k) { float a = 2 * PI * k / RIM; return middle + V{COIN_R * cosf(a), COIN_R * sinf(a), COIN_T}; }

bool coin_visible(const Scene& s, V middle, int W, int H) {
  if (2 * COIN_R * s.camera.focal / length(middle - s.camera.eye) < 0.055f * fmaxf(W, H)) return false;
  for (int k = 0; k < RIM; k++) {
    V p = rim_point(middle, k);
    float u, v;
    if (!project(s.camera, p, u, v) || u < 12 || v < 12 || u > W - 13 || v > H - 13) return false;
    V to = p - s.camera.eye;
    float d = length(to);
    Hit h;
    h.t = d - 0.5f;
    if (intersect(s, s.camera.eye, to * (1.f / d), 1.f, h)) return false;
  }
  return true;
}

bool put_coin(Scene& s, Rng& g, int W, int H, V& middle) {
  s.has_card = 0;
  int drums = s.drums;
  if (drums + 4 > MAX_DRUMS) return false;
  for (int tries = 0; tries < 60; tries++) {
    float az = s.arrangement == LYING ? rnd(g, -PI, PI) : -PI / 2 + rnd(g, -1.7f, 1.7f);
    V from = s.arrangement == LYING ? to_world(s.body, V{0, 0, s.height * rnd(g, 0.2f, 0.8f)}) : V{0, 0, 0};
    float r = s.max_radius + COIN_R + rnd(g, 8.f, 45.f);
    middle = V{from.x + r * cosf(az), from.y + r * sinf(az), 0};
    V q = to_local(s.body, middle + V{0, 0, 1});
    if (s.arrangement == LYING && fabsf(dot(middle - s.body.o, cross(s.body.z, V{0, 0, 1}))) < s.max_radius * 0.9f + COIN_R && q.z > -20 && q.z < s.height + 20) continue;
    if (coin_visible(s, middle, W, H)) {
      float tone = rnd(g, 0.f, 1.f), rough = rnd(g, 0.1f, 0.35f), e = rnd(g, 0.15f, 0.4f), core = chance(g, 0.6f) ? 9.2f : 0;
      V silver = V{0.62f, 0.6f, 0.56f}, brass = V{0.62f, 0.48f, 0.24f}, copper = V{0.55f, 0.3f, 0.2f};
      Paint outer = plain(tone < 0.4f ? silver : tone < 0.75f ? brass : copper, rough, 0.f), inner = plain(tone < 0.4f ? brass : silver, rough, 0.f);
      outer.metal = inner.metal = 0.85f;
      s.drum[s.drums++] = {middle.x, middle.y, 0.f, COIN_T - e, COIN_R, COIN_R, outer, outer};
      s.drum[s.drums++] = {middle.x, middle.y, COIN_T - e, e, COIN_R, COIN_R - e, outer, outer};
      if (core > 0) s.drum[s.drums++] = {middle.x, middle.y, COIN_T - 0.1f, 0.12f, core, core, inner, inner};
      float a = rnd(g, 0.f, 2 * PI);  // a raised figure
      s.drum[s.drums++] = {middle.x + 3 * cosf(a), middle.y + 3 * sinf(a), COIN_T - 0.1f, 0.3f, 3.5f, 3.f, core > 0 ? inner : outer, outer};
      return true;
    }
  }
  return false;
}

int main(int argc, char** argv) {
  std::string folder = argv[1];
  uint32_t seed = atoi(argv[2]);
  int wanted = atoi(argv[3]), longest = atoi(argv[4]), samples = atoi(argv[5]);
  static Scene s;
  for (int made = 0; made < wanted; seed++) {
    Rng g = {hash_u32(seed * 747796405u + 5u)};
    bool portrait = chance(g, 0.5f);
    int W = portrait ? longest * 3 / 4 : longest, H = portrait ? longest : longest * 3 / 4;
    draw_scene(s, seed, W, H);
    V middle;
    bool usable = s.has_container && s.has_card && s.round && s.truth[2] == 0.f && (s.arrangement == STANDING || s.arrangement == LYING) && s.foot_radius == s.max_radius && s.body.o.z >= 0 && (s.arrangement == LYING || s.body.o.z == 0);
    if (!usable || !put_coin(s, g, W, H, middle)) continue;
    made++;
    std::vector<float> out(5 * (size_t)W * H);
#pragma omp parallel for schedule(dynamic)
    for (int y = 0; y < H; y++) for (int x = 0; x < W; x++) render_pixel(s, out.data(), W, H, x, y, samples, seed * 7919u);
    size_t n = (size_t)W * H;
    std::vector<float> lum(n);
    for (size_t i = 0; i < n; i++) lum[i] = (out[i] + out[n + i] + out[2 * n + i]) / 3;
    std::vector<float> sorted = lum;
    std::nth_element(sorted.begin(), sorted.begin() + n * 92 / 100, sorted.end());
    float bright = sorted[n * 92 / 100], mean = 0, cast[3];
    for (float l : lum) mean += l / n;
    for (int c = 0; c < 3; c++) { double m = 0; for (size_t i = 0; i < n; i++) m += out[c * n + i]; cast[c] = m / n / mean; }
    float gain = 0.55f / (0.55f * bright + 0.9f * mean + 1e-4f);
    std::string name = folder + "/" + (s.arrangement == LYING ? "lying" : "standing") + "-" + std::to_string(seed);
    FILE* f = fopen((name + ".ppm").c_str(), "wb");
    fprintf(f, "P6 %d %d 255\n", W, H);
    for (size_t i = 0; i < n; i++) for (int c = 0; c < 3; c++) {
      float x = out[c * n + i] * gain / powf(clampf(cast[c], 0.3f, 3.f), 0.5f);
      float gauss = rnd(g) + rnd(g) + rnd(g) - 1.5f;
      x = fmaxf(x + 0.006f * (sqrtf(fmaxf(x, 0.f)) + 0.1f) * 2.f * gauss, 0.f);
      float t = (x * (2.51f * x + 0.03f)) / (x * (2.43f * x + 0.59f) + 0.14f);
      fputc((int)(255.f * powf(clampf(0.5f * t + 0.5f * x, 0.f, 1.f), 1.f / 2.2f) + 0.5f), f);
    }
    fclose(f);
    float base = 0;
    for (int i = 0; i < s.segments && base == 0; i++) {
      const Segment& q = s.segment[i];
      float dz = q.z1 - q.z0, dr = q.r1 - q.r0;
      if (dz > 2.f * fabsf(dr)) base = q.r0 - q.z0 * dr / dz;
    }
    FILE* j = fopen((name + ".json").c_str(), "w");
    fprintf(j, "{\"arrangement\":\"%s\",\"image\":{\"width\":%d,\"height\":%d},\"container\":{\"base_diameter_mm\":%.3f,\"max_diameter_mm\":%.3f,\"height_mm\":%.3f},", s.arrangement == LYING ? "LAY" : "STAND", W, H, 2 * base, 2 * s.max_radius, s.height);
    fprintf(j, "\"round\":{\"name\":\"2 euro\",\"diameter_mm\":%.2f,\"thickness_mm\":%.2f,\"rim_px\":[", 2 * COIN_R, COIN_T);
    for (int k = 0; k < RIM; k++) { float u, v; project(s.camera, rim_point(middle, k), u, v); fprintf(j, "%s[%.2f,%.2f]", k ? "," : "", u, v); }
    float u0, v0;
    project(s.camera, to_world(s.body, V{0, 0, 0.5f * s.height}), u0, v0);
    fprintf(j, "]},\"inside_px\":[%.1f,%.1f],\"camera\":{\"fx\":%.3f,\"cx\":%.1f,\"cy\":%.1f,\"k1\":%.4f},\"exif\":{\"focal_35mm\":%.0f}}\n", u0, v0, s.camera.focal, s.camera.cx, s.camera.cy, s.camera.k1, s.camera.focal * 43.2666f / hypotf(W, H));
    fclose(j);
    fprintf(stderr, "%s\n", name.c_str());
  }
}
