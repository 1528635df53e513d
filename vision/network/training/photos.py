"""Photos of full size with exact truth, for calibrating and proving the whole engine; never for training.

python3 photos.py OUT --light light.pt --split test --count 100 [--first 0] [--samples 64] [--device cpu]

Each photo depends on its split and number alone, so a set is made again by the same command. The truth files have the fields
of those in sample-images/README.md and say what is in the scene. Pictures that need a tap go to OUT/groups.
"""

import argparse
import concurrent.futures
import io
import json
import math
import os
import random

import cv2
import numpy as np
import torch
from PIL import Image

from pictures import HELD_OUT, Pictures, develop, load_light

# One in how many seeds is used is not known beforehand: the splits lie far apart, and far from those of training.
FIRST_SEED = {"fit": 2_010_000_000, "test": 2_040_000_000, "kept": 2_070_000_000}
STEP = 100  # seeds a photo may try
SIZES = [(2016, 1512), (2016, 1512), (1512, 2016), (2304, 1296), (1728, 1728)]
KINDS = "can can tumbler tumbler jar jar bottle bottle bottle long-neck mug vial waisted free-form stemless footed carafe free-form".split()
PATTERNS = "plain mottled bands dots gradient stripes checks wood linen grid marble bricks print terrazzo floral room grains card-plain card-bank card-stripe card-photo card-lines card-shapes card-identity playing-card book phone paper".split()
ARRANGEMENTS = ["STAND", "LAY", "FRONT", "LEAN"]


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("out")
    parser.add_argument("--light", required=True)
    parser.add_argument("--split", choices=FIRST_SEED, required=True)
    parser.add_argument("--count", type=int, required=True)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--samples", type=int, default=64)
    parser.add_argument("--device", default="cuda")
    a = parser.parse_args()
    os.makedirs(f"{a.out}/groups", exist_ok=True)
    names = torch.load(a.light, map_location="cpu")["names"]
    # What numbers are fitted on and what they are tested on do not share their light either.
    held_out = a.split != "fit"
    light = load_light(a.light, HELD_OUT, held_out)
    names = [n for n in names if (n in HELD_OUT.split(",")) == held_out]
    pictures = Pictures(a.device, a.out, a.samples, light)
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        jobs = []
        for number in range(a.first, a.first + a.count):
            jobs.append(pool.submit(*one(pictures, a.split, number, names), a.out))
            while sum(not j.done() for j in jobs) > 24:
                concurrent.futures.wait(jobs, return_when=concurrent.futures.FIRST_COMPLETED)
                jobs = [j for j in jobs if not j.done() or j.exception()]
                break
        for job in jobs:
            job.result()


def one(pictures, split: str, number: int, names):
    dice = random.Random(f"{split} {number}")
    height, width = dice.choice(SIZES)
    seed = FIRST_SEED[split] + number * STEP
    rays, pictures.samples = pictures.samples, 1
    for seed in range(seed, seed + STEP):
        _, _, truth = pictures.draw(1, seed, height, width)
        t = truth[0].tolist()
        scene = describe(pictures)
        if worth_it(t, scene, width, height, dice):
            break
    pictures.samples = rays
    radiance, coverage, truth = pictures.draw(1, seed, height, width)
    maker = torch.Generator(device=pictures.device).manual_seed(seed)
    photo = (develop(radiance, maker, saved=False)[0].permute(1, 2, 0) * 255).round().byte().cpu().numpy()
    body = coverage[0, 0].cpu().numpy()
    seen = coverage[0, 2].cpu().numpy()
    return write, photo, body, seen, t, describe(pictures), f"{split}{number:04d}", seed, names, dice


def describe(pictures):
    import ctypes

    raw = pictures.scenes.cpu()
    out = (ctypes.c_float * 1024)()
    n = pictures.library.describe(ctypes.c_void_p(raw.data_ptr()), out)
    v = iter(list(out[:n]))
    take = lambda k: [next(v) for _ in range(k)]
    scene = {k: np.array(take(3)) for k in ["eye", "right", "down", "forward"]}
    scene |= dict(zip(["focal", "cx", "cy", "k1", "lens", "focus"], take(6)))
    scene["body"], scene["card"] = np.array(take(12)).reshape(4, 3), np.array(take(12)).reshape(4, 3)
    names = ["kind", "height", "max_radius", "base_radius", "metal", "clear", "pattern", "label", "table", "mat", "mat_pattern", "art"]
    names += ["environment", "lamps", "others", "lift", "rods", "room", "clutter"]
    scene |= dict(zip(names, take(len(names))))
    scene["segments"] = np.array(take(4 * int(next(v)))).reshape(-1, 4)
    return scene


def project(scene, points):
    q = np.asarray(points) - scene["eye"]
    z = q @ scene["forward"]
    x, y = q @ scene["right"] / z, q @ scene["down"] / z
    k = 1 + scene["k1"] * (x * x + y * y)
    return np.stack([scene["focal"] * x * k + scene["cx"], scene["focal"] * y * k + scene["cy"]], 1)


def card_corners(scene):
    o, x, y, z = scene["card"]
    return [o + sx * 42.80 * x + sy * 26.99 * y + 0.38 * z for sx, sy in [(-1, -1), (1, -1), (1, 1), (-1, 1)]]


def worth_it(t, scene, width, height, dice) -> bool:
    """Nothing doubtful, everything large enough to be meant; one in six to be refused."""
    if min(t[0], t[3]) < 0 or (t[0] > 0.5 and min(t[1], t[2]) < 0):
        return False
    good = t[0] > 0.5 and t[1] > 0.5 and t[2] < 0.5 and t[3] > 0.5
    if t[3] > 0.5:
        corners = project(scene, card_corners(scene))
        if min(np.linalg.norm(corners[0] - corners[1]), np.linalg.norm(corners[2] - corners[3])) < 0.07 * max(width, height):
            return False
        if corners.min() < 0 or corners[:, 0].max() > width - 1 or corners[:, 1].max() > height - 1:
            return False
    if t[0] > 0.5:
        ends = np.array(t[13:17]).reshape(2, 2)
        top_down = abs(scene["body"][3] @ scene["forward"]) > 0.9
        if not top_down and np.linalg.norm(ends[0] - ends[1]) < 0.12 * max(width, height):
            return False
    return dice.random() < (1.0 if good else 0.25)


def write(photo, body, seen, t, scene, name, seed, names, dice, out):
    height, width = body.shape
    sent, keeps_exif = dice.random() < 0.2, dice.random() < 0.72
    scale = min(1.0, dice.choice([1280, 1600, 1600]) / max(width, height)) if sent else 1.0
    place = lambda p: [[round(float((x + 0.5) * scale - 0.5), 3), round(float((y + 0.5) * scale - 0.5), 3)] for x, y in p]
    quality = dice.randint(70, 80) if sent else dice.randint(70, 86)
    image = Image.fromarray(photo)
    if sent:
        packed = io.BytesIO()
        image.save(packed, "JPEG", quality=85)
        image = Image.open(packed).resize((round(width * scale), round(height * scale)), Image.LANCZOS)
    f35 = scene["focal"] * 43.2666 / math.hypot(width, height)
    nominal = round(f35 * (1 + 0.008 * dice.gauss(0, 1)))
    exif = Image.Exif()
    has_exif = keeps_exif and not sent
    if has_exif:
        exif.get_ifd(0x8769)[0x920A] = round(f35 * 0.238, 2)
        exif.get_ifd(0x8769)[0xA405] = nominal
    there, is_round, cut, card = t[0] > 0.5, t[1] > 0.5, t[2] > 0.5, t[3] > 0.5
    negative = None
    if not there:
        negative = "container_missing"
    elif not is_round:
        negative = "not_round"
    elif cut:
        negative = "container_cut_off"
    elif not card:
        negative = "card_missing"
    arrangement = ARRANGEMENTS[int(t[4])] if t[4] >= 0 else ("LAY" if abs(scene["body"][3][2]) < 0.5 else "STAND")
    kind = KINDS[int(scene["kind"])] if is_round else "square"
    stem = f"{name}_{arrangement.lower()}_{kind if there else 'none'}"
    folder = f"{out}/groups" if t[20] > 0.5 else out
    image.save(f"{folder}/{stem}.jpg", quality=quality, exif=exif if has_exif else b"")
    segments = scene["segments"]
    profile = [[0.0, float(segments[0][1])]]
    for z0, r0, z1, r1 in segments:
        profile.append([float(z1), float(r1)])
        if z1 >= scene["height"] - 1e-3 and r1 < r0:
            break
        if z1 < z0 - 1e-3 and z0 >= scene["height"] - 1e-3:
            profile.pop()
            break
    pose = np.eye(4)
    pose[:3, :3], pose[:3, 3] = scene["body"][1:].T, scene["body"][0]
    card_pose = np.eye(4)
    card_pose[:3, :3], card_pose[:3, 3] = scene["card"][1:].T, scene["card"][0] + 0.38 * scene["card"][3]
    rotation = np.stack([scene["right"], scene["down"], scene["forward"]])
    base = scene["body"][0]
    ends = project(scene, [base, base + scene["body"][3] * scene["height"]]) if there else []
    contours = outline(body) if there else []
    corners = card_corners(scene)
    file = {
        "id": stem, "split": name.rstrip("0123456789"), "seed": seed, "arrangement": arrangement, "negative": negative,
        "image": {"width": image.width, "height": image.height, "orientation_tag": 1 if has_exif else None, "stored_width": image.width, "stored_height": image.height, "jpeg_quality": quality, "exif": has_exif},
        "container": {
            "present": there, "type": kind, "profile_mm": [[round(z, 3), round(r, 3)] for z, r in profile],
            "base_diameter_mm": round(2 * scene["base_radius"], 3), "contact_diameter_mm": round(2 * contact_radius(segments), 3),
            "max_diameter_mm": round(2 * scene["max_radius"], 3), "height_mm": round(scene["height"], 3), "round": is_round,
            "lift_mm": round(scene["lift"], 3) if arrangement != "LAY" else 0, "pose_container_to_world": pose.round(6).tolist(), "axis_px": place(ends) or None,
            "outline_px": [place(c) for c in contours], "base_seen": flag(t[17]), "top_seen": flag(t[18]), "tap_px": place([tap_point(seen)])[0] if there else None,
        },
        "card": {"corners_px": place(project(scene, corners)), "corners_world_mm": np.round(corners, 4).tolist(), "pose_card_to_world": card_pose.round(6).tolist(), "width_mm": 85.6, "height_mm": 53.98, "thickness_mm": 0.76, "corner_radius_mm": 3.18, "art": PATTERNS[int(scene["art"])]} if card else None,
        "camera": {"fx": round(scene["focal"] * scale, 4), "fy": round(scene["focal"] * scale, 4), "cx": round((scene["cx"] + 0.5) * scale - 0.5, 4), "cy": round((scene["cy"] + 0.5) * scale - 0.5, 4), "k1": round(scene["k1"], 6), "R_world_to_cam": rotation.round(8).tolist(), "t_world_to_cam_mm": (-rotation @ scene["eye"]).round(5).tolist(), "eye_world_mm": scene["eye"].round(4).tolist(), "f35_true": round(f35, 4)},
        "exif": {"focal_length_mm": round(f35 * 0.238, 2), "focal_35mm": nominal, "convention": "diagonal: f_px = f35 * image_diagonal_px / 43.2666"} if has_exif else None,
        "material": "metal" if scene["metal"] > 0.5 else "glass" if scene["clear"] > 0.5 else "milky" if scene["clear"] > 0 else PATTERNS[int(scene["pattern"])],
        "label": scene["label"] > 0, "background": PATTERNS[int(scene["mat_pattern" if scene["mat"] else "table"])], "room": scene["room"] > 0,
        "light": names[int(scene["environment"])] if scene["environment"] >= 0 else "drawn", "lamp": scene["lamps"] > 0,
        "others": int(scene["others"]), "needs_tap": t[20] > 0.5, "saucer": t[19] > 0.5, "clutter": int(scene["clutter"]), "sent": sent, "lens_radius_mm": round(scene["lens"], 3),
    }
    with open(f"{folder}/{stem}.json", "w") as f:
        json.dump(file, f, separators=(",", ":"))


def flag(x: float):
    return None if x < 0 else x > 0.5


def contact_radius(segments) -> float:
    flat = [max(r0, r1) for z0, r0, z1, r1 in segments if abs(z0) < 1e-3 and abs(z1) < 1e-3]
    return float(max(flat, default=segments[0][1]))


def outline(body):
    """Contours of the half-covered line, largest first, to about 0.3 px."""
    large = cv2.resize(body, None, fx=3, fy=3, interpolation=cv2.INTER_LINEAR)
    found, _ = cv2.findContours((np.pad(large, 1) > 0.5).astype(np.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    found = sorted(found, key=cv2.contourArea, reverse=True)[:1]
    return [(cv2.approxPolyDP(c, 0.6, True)[:, 0] - 1 + 0.5) / 3 - 0.5 for c in found]


def tap_point(seen):
    inner = cv2.distanceTransform((seen > 0.5).astype(np.uint8), cv2.DIST_L2, 5)
    y, x = np.unravel_index(inner.argmax(), inner.shape)
    return [float(x), float(y)]


if __name__ == "__main__":
    main()
