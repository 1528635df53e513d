"""How well a network does on fresh pictures: python3 evaluate.py checkpoint.pt --light light.pt [--count 2048] [--device cpu]"""

import argparse
import tempfile

import torch
import torch.nn.functional as F

from network import OutlineNetwork
from pictures import CELL, HELD_OUT, SHAPES, Pictures, load_light
from targets import YES_OR_NO, order_corners, reach, tap, turn


@torch.no_grad()
def evaluate(network, pictures, count: int, seed: int, batch: int = 64):
    """Lists, one entry per picture that has the truth in question."""
    names = ["body", "body_alone", "body_tapped", "body_group", "other", "card", "corners", "corner_seen", "border", "base", "top", "arrangement", "turn", *YES_OR_NO]
    result = {k: [] for k in names}
    network.eval()
    random = torch.Generator(device=pictures.device).manual_seed(seed)
    for start in range(0, count, batch):
        height, width = SHAPES[(start // batch) % 3]
        photo, coverage, truth = pictures.batch(batch, seed + start, height, width)
        cells = F.avg_pool2d(coverage, CELL)
        tapped = tap(cells, truth, 0.5, random)
        maps, scores = network(torch.cat([photo, tapped], 1))
        want, got = cells[:, :2] > 0.5, maps[:, :2] > 0
        overlap = intersection_over_union(want, got)
        points = soft_peaks(maps[:, 2:8])
        corners, tie = order_corners(truth[:, 5:13].view(-1, 4, 2))
        off = torch.cdist(points[:, :4], corners).min(2).values.amax(1)
        ends = truth[:, 13:17].view(-1, 2, 2)
        off_ends = (points[:, 4:] - ends).norm(dim=2)
        whole = (truth[:, 0] > 0.5) & (truth[:, 2] == 0)
        given = tapped.amax((1, 2, 3)) > 0
        result["body"] += overlap[whole, 0].tolist()
        result["body_alone"] += overlap[whole & ~given, 0].tolist()
        result["body_tapped"] += overlap[whole & given, 0].tolist()
        result["body_group"] += overlap[whole & given & (truth[:, 20] > 0.5), 0].tolist()
        there = (cells[:, 3] > 0.5).sum((1, 2)) > 20
        result["other"] += intersection_over_union(cells[:, 3] > 0.5, (maps[:, 8] > 0) & (cells[:, 4] < 0.2))[there].tolist()
        result["card"] += overlap[truth[:, 3] > 0.5, 1].tolist()
        result["corners"] += off[truth[:, 3] > 0.5].tolist()
        at = ((truth[:, 5:13].view(-1, 4, 2) - (CELL - 1) / 2) / CELL).round().long()
        x, y = at[..., 0].clamp(0, maps.shape[3] - 1), at[..., 1].clamp(0, maps.shape[2] - 1)
        flags = maps[torch.arange(len(maps))[:, None], 9, y, x]
        asked = (truth[:, 21:25] >= 0) & (truth[:, 3:4] > 0.5)
        result["corner_seen"] += list(zip(flags[asked].tolist(), (truth[:, 21:25][asked] > 0.5).tolist()))
        band = (reach(cells[:, 0]) > 0.4) & whole[:, None, None]
        right = (reach(cells[:, 2]) > 0.5 * reach(cells[:, 0])) & ((maps[:, 0].sigmoid() - cells[:, 0]).abs() < 0.5)
        some = torch.randperm(int(band.sum()), device=band.device)[:200]
        result["border"] += list(zip(maps[:, 10][band][some].tolist(), right[band][some].tolist()))
        result["base"] += off_ends[whole, 0].tolist()
        result["top"] += off_ends[whole, 1].tolist()
        known = truth[:, 4] >= 0
        result["arrangement"] += (scores[known, :4].argmax(1) == truth[known, 4].long()).tolist()
        for i, (name, place) in enumerate(YES_OR_NO.items()):
            known = truth[:, place] >= 0
            result[name] += list(zip(scores[known, 4 + i].tolist(), (truth[known, place] > 0.5).tolist()))
        quarters = (start // batch) % 4  # every quarter of the pictures is turned another way
        photo, _, truth = turn(photo, coverage, truth, quarters)
        _, scores = network(torch.cat([photo, torch.rot90(tapped, -quarters, (2, 3))], 1))
        known = truth[:, 25] >= 0
        result["turn"] += (scores[known, 11:15].argmax(1) == truth[known, 25].long()).tolist()
    return result


def intersection_over_union(a, b):
    return (a & b).sum((-2, -1)) / (a | b).sum((-2, -1)).clamp(min=1)


def soft_peaks(maps):
    """Centre of mass of the 5 by 5 cells round each map's peak, in input pixels: (n, k, 2)."""
    n, k, rows, columns = maps.shape
    p = F.softmax(maps.flatten(2), 2).view(n, k, rows, columns)
    near = F.avg_pool2d(p, 5, 1, 2, divisor_override=1)
    at = near.flatten(2).argmax(2)
    r, c = at // columns, at % columns
    y = torch.arange(rows, device=maps.device).view(1, 1, rows, 1)
    x = torch.arange(columns, device=maps.device).view(1, 1, 1, columns)
    window = p * ((y - r[..., None, None]).abs() <= 2) * ((x - c[..., None, None]).abs() <= 2)
    mass = window.sum((2, 3)).clamp(min=1e-9)
    centre = torch.stack([(window * x).sum((2, 3)) / mass, (window * y).sum((2, 3)) / mass], 2)
    return centre * CELL + (CELL - 1) / 2


def temperature(pairs) -> float:
    """What the logits should be divided by, by likelihood."""
    logits, yes = torch.tensor([g for g, _ in pairs]), torch.tensor([float(w) for _, w in pairs])
    tried = torch.exp(torch.linspace(-1.5, 1.5, 121))
    cost = [F.binary_cross_entropy_with_logits(logits / t, yes).item() for t in tried]
    return tried[min(range(len(cost)), key=cost.__getitem__)].item()


def reliability(pairs) -> str:
    """Said against true, in five parts of what was said."""
    said, true = torch.tensor([g for g, _ in pairs]).sigmoid(), torch.tensor([float(w) for _, w in pairs])
    parts = [(said >= k / 5) & (said < (k + 1) / 5 + (k == 4)) for k in range(5)]
    return "  ".join(f"{said[p].mean():.2f}:{true[p].mean():.2f} of {int(p.sum())}" for p in parts if p.any())


def report(result):
    print("| mask overlap (IoU) | median | above 0.85 | of |\n| --- | --- | --- | --- |")
    for name in ["body", "body_alone", "body_tapped", "body_group", "other", "card"]:
        t = torch.tensor(result[name])
        print(f"| {name} | {t.median():.3f} | {100 * (t > 0.85).float().mean():.1f} % | {len(t)} |")
    print("\n| error, px of a 320 px picture | median | 90th percentile | of |\n| --- | --- | --- | --- |")
    for name in ["corners", "base", "top"]:
        t = torch.tensor(result[name])
        print(f"| {name} | {t.median():.2f} | {t.quantile(0.9):.2f} | {len(t)} |")
    print("\n| | right | of |\n| --- | --- | --- |")
    for name in ["arrangement", "turn"]:
        print(f"| {name} | {100 * sum(result[name]) / max(len(result[name]), 1):.1f} % | {len(result[name])} |")
    print("\n| | yes recognised | no recognised | likeliest temperature | said:true |\n| --- | --- | --- | --- | --- |")
    for name in [*YES_OR_NO, "corner_seen", "border"]:
        pairs = result[name]
        yes, no = [g > 0 for g, w in pairs if w], [g > 0 for g, w in pairs if not w]
        print(f"| {name} | {100 * sum(yes) / max(len(yes), 1):.1f} % of {len(yes)} | {100 * (1 - sum(no) / max(len(no), 1)):.1f} % of {len(no)} | {temperature(pairs):.2f} | {reliability(pairs)} |")


if __name__ == "__main__":
    parser = argparse.ArgumentParser()
    parser.add_argument("checkpoint")
    parser.add_argument("--light")
    parser.add_argument("--seen-light", action="store_true", help="the environments of the training instead of those kept for tests")
    parser.add_argument("--count", type=int, default=2048)
    parser.add_argument("--device", default="cuda")
    a = parser.parse_args()
    trained = OutlineNetwork().to(a.device)
    trained.load_state_dict(torch.load(a.checkpoint, map_location=a.device)["average"])
    with tempfile.TemporaryDirectory() as folder:
        light = load_light(a.light, HELD_OUT, not a.seen_light) if a.light else None
        report(evaluate(trained, Pictures(a.device, folder, environments=light), a.count, seed=1_950_000_000))
