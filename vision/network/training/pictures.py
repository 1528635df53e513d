"""Endless random training pictures: rays from renderer.cpp, camera effects here."""

import ctypes
import subprocess
from pathlib import Path

import torch
import torch.nn.functional as F

HERE = Path(__file__).parent
PLANES, TRUTHS = 8, 32  # of renderer.cpp and scene.h
CELL = 4  # pixels of the network's input per cell of its maps, each way

# Heights and widths of the network's input (long side 320, multiples of 16), and how often each occurs.
SHAPES = [(320, 240), (240, 320), (320, 320), (320, 176), (176, 320), (320, 208), (208, 320)]
SHAPE_WEIGHTS = [0.36, 0.26, 0.1, 0.1, 0.06, 0.06, 0.06]


HELD_OUT = "hall,night,park,workshop"


def load_light(path: str, held_out: str, only_those: bool) -> torch.Tensor:
    """The environments of environments.py (k, floats) without those that are kept for tests, or those alone."""
    saved = torch.load(path, map_location="cpu")
    chosen = [i for i, name in enumerate(saved["names"]) if (name in held_out.split(",")) == only_those]
    return saved["environments"][chosen]


def build(device: str, out_dir: str) -> ctypes.CDLL:
    target = Path(out_dir) / "renderer.so"
    sources = [HERE / "renderer.cpp", *HERE.glob("*.h")]
    if target.exists() and target.stat().st_mtime > max(s.stat().st_mtime for s in sources):
        return ctypes.CDLL(str(target))
    if device == "cuda":
        command = ["nvcc", "-O3", "-use_fast_math", "-arch=native", "-shared", "-Xcompiler", "-fPIC", "-x", "cu"]
    else:
        command = ["g++", "-O3", "-march=native", "-fopenmp", "-shared", "-fPIC", "-x", "c++"]
    subprocess.run([*command, str(HERE / "renderer.cpp"), "-o", str(target)], check=True)
    return ctypes.CDLL(str(target))


class Pictures:
    """Batch k of a seed is always the same batch on the same machine."""

    def __init__(self, device: str, out_dir: str, samples: int = 16, environments: torch.Tensor | None = None):
        self.device, self.samples = device, samples
        self.library = build(device, out_dir)
        self.environments = None if environments is None else environments.to(device).float().contiguous()
        if environments is not None and environments.shape[1] != self.library.around_floats():
            raise ValueError("these environments were prepared for another renderer")
        self.scene_bytes = self.library.scene_bytes()

    def batch(self, count: int, seed: int, height: int, width: int):
        """Pictures (count, 3, H, W) in 0..1, coverage (count, 5, H, W: see renderer.cpp), truth (count, 32: see scene.h)."""
        radiance, coverage, truth = self.draw(count, seed, height, width)
        return develop(radiance, torch.Generator(device=self.device).manual_seed(seed)), coverage, truth

    def draw(self, count: int, seed: int, height: int, width: int):
        """The same with the light itself in place of the developed picture."""
        scenes = torch.empty(count * self.scene_bytes // 4 + 1, dtype=torch.int32, device=self.device)
        truth = torch.empty(count, TRUTHS, device=self.device)
        out = torch.empty(count, PLANES, height, width, device=self.device)
        stream = torch.cuda.current_stream().cuda_stream if self.device == "cuda" else 0
        error = self.library.render(
            ctypes.c_void_p(scenes.data_ptr()), ctypes.c_void_p(truth.data_ptr()), ctypes.c_void_p(out.data_ptr()),
            ctypes.c_void_p(0 if self.environments is None else self.environments.data_ptr()), 0 if self.environments is None else len(self.environments),
            count, ctypes.c_uint32(seed & 0xFFFFFFFF), width, height, self.samples, ctypes.c_void_p(stream),
        )
        if error:
            raise RuntimeError(f"renderer failed with CUDA error {error}")
        self.scenes = scenes
        return out[:, :3], out[:, 3:], truth


def develop(radiance: torch.Tensor, random: torch.Generator | None, saved: bool = True) -> torch.Tensor:
    """What a phone makes of the light: exposure, white balance, vignette, blur, tone curve, noise, sharpening, JPEG."""
    n, _, height, width = radiance.shape
    device = radiance.device

    def uniform(low, high, *shape):
        return low + (high - low) * torch.rand(n, *(shape or (1, 1, 1)), generator=random, device=device)

    def chance(p):
        return (torch.rand(n, 1, 1, 1, generator=random, device=device) < p).float()

    def gauss(*shape):
        return torch.randn(n, *(shape or (1, 1, 1)), generator=random, device=device)

    x = torch.nan_to_num(radiance, 0.0, 8.0, 0.0)
    luminance = x.mean(1, keepdim=True)
    flat = luminance.flatten(1)
    some = flat[:, ::7]  # sorting all of them takes long
    bright = some.sort(1).values[:, int(some.shape[1] * 0.92)].view(n, 1, 1, 1)
    mean = flat.mean(1).view(n, 1, 1, 1)
    x = x * (uniform(0.25, 0.9) / (0.55 * bright + 0.9 * mean + 1e-4))
    # White balance: the camera takes out most of the light's colour, then errs a little.
    cast = x.mean((2, 3), keepdim=True)
    cast = cast / (cast.mean(1, keepdim=True) + 1e-4)
    x = x / cast.clamp(0.3, 3).pow(uniform(0.0, 0.8)) * (1 + 0.06 * gauss(3, 1, 1))
    yy, xx = torch.meshgrid(torch.linspace(-1, 1, height, device=device), torch.linspace(-1, 1, width, device=device), indexing="ij")
    x = x * (1 - uniform(0, 0.35) * chance(0.6) * (xx**2 + yy**2).view(1, 1, height, width) / 2)
    noise = torch.exp(uniform(-8.0, -4.2))
    x = x + noise * (x.clamp(min=0).sqrt() + 0.1) * gauss(3, height, width)
    # Tone: filmic shoulder mixed with a straight cut, then display gamma.
    x = x.clamp(min=0)
    k = uniform(0, 1)
    filmic = (x * (2.51 * x + 0.03)) / (x * (2.43 * x + 0.59) + 0.14)
    x = (k * filmic + (1 - k) * x).clamp(1e-5, 1).pow(1 / uniform(1.9, 2.5))
    x = blur(x, uniform(0.0, 0.9) * chance(0.5) + uniform(0.0, 1.3) * chance(0.12))
    part = -(-n // 10)  # pictures of a batch come in any order: a part of them is as good as a chance for each, and cheaper
    x = torch.cat([smear(x[:part], (uniform(0, 2.5) * (chance(0.1) if n < 10 else 1))[:part], uniform(0, torch.pi)[:part]), x[part:]])
    x = x + uniform(0, 1.2) * chance(0.6) * (x - blur(x, torch.full_like(k, 0.9)))
    grey = x.mean(1, keepdim=True)
    x = grey + (x - grey) * (uniform(0.7, 1.35) * (1 - chance(0.03)))
    x = (x - 0.5) * uniform(0.8, 1.2) + 0.5 + 0.05 * gauss()
    if not saved:
        return x.clamp(0, 1)
    x = jpeg(x.clamp(0, 1), uniform(0.0, 0.1) * chance(0.4))
    x = torch.cat([x[:-part], jpeg(x[-part:].clamp(0, 1).roll((3, 5), (2, 3)), uniform(0.0, 0.08)[-part:]).roll((-3, -5), (2, 3))])  # sent, saved again
    return (x.clamp(0, 1) * 255).round() / 255


def blur(x: torch.Tensor, sigma: torch.Tensor) -> torch.Tensor:
    n, c, h, w = x.shape
    taps = torch.arange(-3, 4, device=x.device, dtype=x.dtype).view(1, 7)
    kernel = torch.exp(-0.5 * (taps / (sigma.view(n, 1) + 1e-3)) ** 2)
    kernel = (kernel / kernel.sum(1, keepdim=True)).repeat_interleave(c, 0)
    y = F.pad(x.reshape(1, n * c, h, w), (3, 3, 3, 3), mode="replicate")
    y = F.conv2d(y, kernel.view(n * c, 1, 1, 7), groups=n * c)
    return F.conv2d(y, kernel.view(n * c, 1, 7, 1), groups=n * c).view(n, c, h, w)


def smear(x: torch.Tensor, length: torch.Tensor, angle: torch.Tensor) -> torch.Tensor:
    """The camera moved by so many pixels either way while the picture was taken."""
    n, c, h, w = x.shape
    taps = torch.arange(-3, 4, device=x.device, dtype=x.dtype)
    along = taps.view(1, 1, 7) * angle.view(n, 1, 1).cos() + taps.view(1, 7, 1) * angle.view(n, 1, 1).sin()
    across = taps.view(1, 7, 1) * angle.view(n, 1, 1).cos() - taps.view(1, 1, 7) * angle.view(n, 1, 1).sin()
    kernel = torch.exp(-0.5 * (across / 0.4) ** 2) * torch.sigmoid((length.view(n, 1, 1) + 0.4 - along.abs()) / 0.15)
    kernel = (kernel / kernel.sum((1, 2), keepdim=True)).repeat_interleave(c, 0)
    y = F.pad(x.reshape(1, n * c, h, w), (3, 3, 3, 3), mode="replicate")
    return F.conv2d(y, kernel.view(n * c, 1, 7, 7), groups=n * c).view(n, c, h, w)


def jpeg(x: torch.Tensor, step: torch.Tensor) -> torch.Tensor:
    """Rounds 8 by 8 cosine coefficients of the three channels, coarser for high frequencies."""
    n, c, h, w = x.shape
    k = torch.arange(8, device=x.device, dtype=x.dtype)
    basis = torch.cos((2 * k.view(1, 8) + 1) * k.view(8, 1) * torch.pi / 16) * 0.5
    basis[0] *= 0.5**0.5
    blocks = x.view(n, c, h // 8, 8, w // 8, 8)
    coefficients = torch.einsum("ia,nchawb,jb->nchiwj", basis, blocks, basis)
    size = step.view(n, 1, 1, 1, 1, 1) * (0.3 + 0.25 * (k.view(8, 1, 1) + k.view(1, 1, 8))) + 1e-6
    coefficients = (coefficients / size).round() * size
    return torch.einsum("ia,nchiwj,jb->nchawb", basis, coefficients, basis).reshape(n, c, h, w)
