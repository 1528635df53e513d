"""Measured light for the renderer: python3 environments.py light.pt

Fetches the environment maps of the npm package @pmndrs/assets (CC0-1.0) with npm and prepares them for light.h.
Needs npm, OpenCV for Python (with OpenEXR) and PyTorch. Nothing of them is shipped; what has learnt from them is.
"""

import base64
import glob
import os
import re
import subprocess
import sys
import tempfile

os.environ["OPENCV_IO_ENABLE_OPENEXR"] = "1"

import cv2
import numpy as np
import torch

PACKAGE = "@pmndrs/assets@1.7.0"
WIDTH, HEIGHT, FAR_WIDTH, FAR_HEIGHT, RAYS = 512, 256, 128, 64, 4096
LIMIT = 4.0  # times the mean: brighter places are sampled one by one, the rest by chance


def main(out: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        archive = subprocess.run(["npm", "pack", "--silent", PACKAGE], cwd=folder, check=True, capture_output=True, text=True).stdout.split()[-1]
        subprocess.run(["tar", "xzf", archive], cwd=folder, check=True)
        names, prepared = [], []
        for path in sorted(glob.glob(f"{folder}/package/hdri/*.exr.js")):
            names.append(os.path.basename(path).split(".")[0])
            packed = re.search(r"base64,([A-Za-z0-9+/=]+)", open(path).read()).group(1)
            exr = f"{folder}/one.exr"
            open(exr, "wb").write(base64.b64decode(packed))
            prepared.append(prepare(cv2.imread(exr, cv2.IMREAD_UNCHANGED)[:, :, ::-1].astype(np.float64)))
    torch.save({"names": names, "environments": torch.from_numpy(np.stack(prepared)).half()}, out)
    print(len(names), "environments:", ", ".join(names))


def prepare(light: np.ndarray) -> np.ndarray:
    """Light (256, 512, 3), top row = up -> the floats of light.h, scaled so that a level surface under it is lit like under a sky of 1."""
    rows = (np.arange(HEIGHT) + 0.5) / HEIGHT * np.pi
    columns = (np.arange(WIDTH) + 0.5) / WIDTH * 2 * np.pi
    x, y = np.sin(rows)[:, None] * np.cos(columns), np.sin(rows)[:, None] * np.sin(columns)
    z = np.cos(rows)[:, None] + 0 * x
    solid = (np.pi / HEIGHT) * (2 * np.pi / WIDTH) * np.sin(rows)[:, None, None] + 0 * light[:, :, :1]
    level = (light.mean(2) * np.maximum(z, 0) * solid[:, :, 0]).sum() / np.pi
    light = np.minimum(light / level, 60000.0)
    limit = LIMIT * (light.mean(2) * solid[:, :, 0]).sum() / (4 * np.pi)
    over = light * np.maximum(0, 1 - limit / np.maximum(light.max(2, keepdims=True), 1e-9))
    power = over * solid
    strength = power.mean(2).ravel()
    total = strength.sum()
    at = np.searchsorted(np.cumsum(strength) / max(total, 1e-12), (np.arange(RAYS) + 0.5) / RAYS).clip(0, strength.size - 1)
    colour = power.reshape(-1, 3)[at] / np.maximum(strength[at], 1e-12)[:, None] * total / np.pi if total > 0 else np.zeros((RAYS, 3))
    rays = np.concatenate([np.stack([x.ravel()[at], y.ravel()[at], z.ravel()[at]], 1), colour], 1)
    rest = (light - over) * solid
    # Ramamoorthi and Hanrahan, An efficient representation for irradiance environment maps, 2001; divided by pi.
    basis = [0.282095 + 0 * z, 0.488603 * y, 0.488603 * z, 0.488603 * x, 1.092548 * x * y, 1.092548 * y * z, 0.315392 * (3 * z * z - 1), 1.092548 * x * z, 0.546274 * (x * x - y * y)]
    scale = [0.282095] + [0.488603] * 3 + [1.092548] * 2 + [0.315392, 1.092548, 0.546274]
    soft = [(rest * b[:, :, None]).sum((0, 1)) * k * a for b, k, a in zip(basis, scale, [1] + [2 / 3] * 3 + [0.25] * 5)]
    far = cv2.GaussianBlur(np.concatenate([light] * 3, 1), (0, 0), 3)[:, WIDTH : 2 * WIDTH]
    far = cv2.resize(np.minimum(far, 100), (FAR_WIDTH, FAR_HEIGHT), interpolation=cv2.INTER_AREA)
    return np.concatenate([light.ravel(), far.ravel(), rays.ravel(), np.array(soft).ravel(), [limit]])


if __name__ == "__main__":
    main(sys.argv[1])
