"""How well a network does on fresh pictures: python3 evaluate.py checkpoint.pt [count] [device]"""

import sys
import tempfile

import torch
import torch.nn.functional as F

from network import OutlineNetwork
from pictures import CELL, SHAPES, Pictures
from targets import order_corners


@torch.no_grad()
def evaluate(network, pictures, count: int, seed: int, batch: int = 64):
    """Lists, one entry per picture that has the truth in question."""
    result = {k: [] for k in ["body", "card", "corners", "base", "top", "arrangement", "container", "round", "cut", "card_present"]}
    network.eval()
    for start in range(0, count, batch):
        height, width = SHAPES[(start // batch) % 3]
        photo, coverage, truth = pictures.batch(batch, seed + start, height, width)
        maps, scores = network(photo)
        want = F.avg_pool2d(coverage, CELL) > 0.5
        got = maps[:, :2] > 0
        overlap = (want & got).sum((2, 3)) / (want | got).sum((2, 3)).clamp(min=1)
        points = soft_peaks(maps[:, 2:])
        corners, tie = order_corners(truth[:, 5:13].view(-1, 4, 2))
        off = torch.cdist(points[:, :4], corners).min(2).values.amax(1)
        ends = truth[:, 13:17].view(-1, 2, 2)
        off_ends = (points[:, 4:] - ends).norm(dim=2)
        whole = (truth[:, 0] > 0.5) & (truth[:, 2] == 0)
        result["body"] += overlap[whole, 0].tolist()
        result["card"] += overlap[truth[:, 3] > 0.5, 1].tolist()
        result["corners"] += off[truth[:, 3] > 0.5].tolist()
        result["base"] += off_ends[whole, 0].tolist()
        result["top"] += off_ends[whole, 1].tolist()
        known = truth[:, 4] >= 0
        result["arrangement"] += (scores[known, :4].argmax(1) == truth[known, 4].long()).tolist()
        for i, name in enumerate(["container", "round", "cut", "card_present"]):
            known = truth[:, i] >= 0
            result[name] += list(zip((scores[known, 4 + i] > 0).tolist(), (truth[known, i] > 0.5).tolist()))
    return result


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


def report(result):
    for name in ["body", "card"]:
        t = torch.tensor(result[name])
        print(f"{name} mask IoU: median {t.median():.3f}, mean {t.mean():.3f}, above 0.85: {(t > 0.85).float().mean():.3f} of {len(t)}")
    for name in ["corners", "base", "top"]:
        t = torch.tensor(result[name])
        print(f"{name} error, px of a 320 px picture: median {t.median():.2f}, 90th percentile {t.quantile(0.9):.2f}, over 10 px: {(t > 10).float().mean():.3f}")
    print(f"arrangement right: {sum(result['arrangement']) / len(result['arrangement']):.4f} of {len(result['arrangement'])}")
    for name in ["container", "round", "cut", "card_present"]:
        pairs = result[name]
        yes, no = [g for g, w in pairs if w], [g for g, w in pairs if not w]
        print(f"{name}: yes recognised {sum(yes) / max(len(yes), 1):.4f} of {len(yes)}, no recognised {1 - sum(no) / max(len(no), 1):.4f} of {len(no)}")


if __name__ == "__main__":
    device = sys.argv[3] if len(sys.argv) > 3 else "cuda"
    trained = OutlineNetwork().to(device)
    trained.load_state_dict(torch.load(sys.argv[1], map_location=device)["average"])
    with tempfile.TemporaryDirectory() as folder:
        report(evaluate(trained, Pictures(device, folder), int(sys.argv[2]) if len(sys.argv) > 2 else 1024, seed=1_950_000_000))
