"""From the truth of a batch to what the network should answer, and how wrong it is."""

import torch
import torch.nn.functional as F

from pictures import CELL

PEAK_SD_CELLS = 0.9
TAP_SD_PX = 7.0
# Scores 4 to 10, and where their truth stands.
YES_OR_NO = {"container": 0, "round": 1, "cut": 2, "card_present": 3, "base_seen": 17, "top_seen": 18, "on_something": 19}


def order_corners(corners: torch.Tensor):
    """(n, 4, 2) clockwise -> the same from the top-left one (least x + y), and -1, 0 or 1: which neighbour ties for first."""
    total = corners.sum(2)
    first = total.argmin(1)
    index = (first[:, None] + torch.arange(4, device=corners.device)) % 4
    ordered = corners.gather(1, index[:, :, None].expand(-1, -1, 2))
    total = ordered.sum(2) - ordered[:, :1].sum(2)
    span = total.max(1).values.clamp(min=1e-3)
    tie = (total[:, 1] / span < 0.16).long() - (total[:, 3] / span < 0.16).long()
    return ordered, tie


def mirror(pictures, coverage, truth):
    width = pictures.shape[3]
    truth = truth.clone()
    corners = truth[:, 5:13].view(-1, 4, 2).flip(1)
    corners[..., 0] = width - 1 - corners[..., 0]
    truth[:, 5:13] = corners.reshape(-1, 8)
    truth[:, [13, 15]] = width - 1 - truth[:, [13, 15]]
    truth[:, 21:25] = truth[:, 21:25].flip(1)
    truth[:, 25] = torch.where(truth[:, 25] > 0, 4 - truth[:, 25], truth[:, 25])
    return pictures.flip(3), coverage.flip(3), truth


def turn(pictures, coverage, truth, quarters: int):
    """The same turned clockwise."""
    height, width = pictures.shape[2:]
    truth = truth.clone()
    points = truth[:, 5:17].view(-1, 6, 2)
    x, y = points[..., 0], points[..., 1]
    turned = [(x, y), (height - 1 - y, x), (width - 1 - x, height - 1 - y), (y, width - 1 - x)][quarters]
    truth[:, 5:17] = torch.stack(turned, 2).reshape(-1, 12)
    truth[:, 25] = torch.where(truth[:, 25] >= 0, (truth[:, 25] + quarters) % 4, truth[:, 25])
    return torch.rot90(pictures, -quarters, (2, 3)), torch.rot90(coverage, -quarters, (2, 3)), truth


def tap(coverage, truth, share: float, random: torch.Generator | None = None):
    """The tap map (n, 1, H, W): a bump where a finger pointed at the container that is meant, or nothing.

    Given to this share of the pictures, and wherever another container is about as large; rarely on a picture without any.
    """
    n, _, rows, columns = coverage.shape
    device = coverage.device
    seen = coverage[:, 2:3]
    weight = ((seen > 0.8) * F.avg_pool2d(seen, 9, 1, 4) ** 3).flatten(1)
    nothing = weight.sum(1) <= 0
    weight = weight + nothing[:, None].float()
    cell = torch.multinomial(weight, 1, generator=random)[:, 0]
    jitter = torch.rand(n, 2, device=device, generator=random) * CELL - 0.5
    x, y = (cell % columns) * CELL + jitter[:, 0], (cell // columns) * CELL + jitter[:, 1]
    dice = torch.rand(n, device=device, generator=random)
    given = torch.where(truth[:, 0] > 0.5, ((dice < share) | (truth[:, 20] > 0.5)) & ~nothing, dice < 0.15 * share)
    across = torch.exp(-0.5 * ((torch.arange(columns * CELL, device=device) - x[:, None]) / TAP_SD_PX) ** 2)
    down = torch.exp(-0.5 * ((torch.arange(rows * CELL, device=device) - y[:, None]) / TAP_SD_PX) ** 2)
    return (down[:, None, :, None] * across[:, None, None, :]) * given.float().view(n, 1, 1, 1)


def peaks(points: torch.Tensor, rows: int, columns: int) -> torch.Tensor:
    """Normalised Gaussian bumps (n, k, rows * columns) at points (n, k, 2) of the input picture."""
    at = (points - (CELL - 1) / 2) / CELL
    x = torch.exp(-0.5 * ((torch.arange(columns, device=points.device) - at[..., :1]) / PEAK_SD_CELLS) ** 2)
    y = torch.exp(-0.5 * ((torch.arange(rows, device=points.device) - at[..., 1:]) / PEAK_SD_CELLS) ** 2)
    bump = (y[..., :, None] * x[..., None, :]).flatten(2)
    return bump / bump.sum(2, keepdim=True).clamp(min=1e-6)


def loss(maps, scores, coverage, truth, shape):
    """Sum of all the terms, and each of them by name. Truth of -1 teaches nothing."""
    maps, scores = maps.float(), scores.float()
    n, _, rows, columns = maps.shape
    terms = {}
    known_body = (truth[:, 0] >= 0).float()
    all_cells = torch.ones_like(coverage[:, 0])
    grouped = 1 + (truth[:, 20] > 0.5).float()  # which of several is meant is the harder question: it counts double
    terms["body"] = (known_body * grouped * mask_loss(maps[:, 0], coverage[:, 0], all_cells)).mean()
    terms["card"] = mask_loss(maps[:, 1], coverage[:, 1], all_cells).mean()
    terms["other"] = 0.5 * (known_body * mask_loss(maps[:, 8], coverage[:, 3], (coverage[:, 4] < 0.2).float())).mean()
    terms["border"] = border_loss(maps[:, 10], maps[:, 0].detach().sigmoid(), coverage, known_body)

    logp = F.log_softmax(maps[:, 2:8].flatten(2), 2)
    corners, tie = order_corners(truth[:, 5:13].view(n, 4, 2))
    wanted = peaks(corners, rows, columns)
    cost = -torch.einsum("nkc,njc->nkj", logp[:, :4], wanted)
    k = torch.arange(4, device=maps.device)
    plain, ahead, behind = (cost[:, k, (k + shift) % 4].mean(1) for shift in (0, 1, 3))
    best = torch.where(tie > 0, torch.minimum(plain, ahead), torch.where(tie < 0, torch.minimum(plain, behind), plain))
    flags = truth[:, 21:25]
    asked = (flags >= 0) & (truth[:, 3:4] > 0.5)
    at_corners = torch.einsum("nc,nkc->nk", maps[:, 9].flatten(1), peaks(truth[:, 5:13].view(n, 4, 2), rows, columns))
    terms["corner_seen"] = 0.25 * masked_mean(F.binary_cross_entropy_with_logits(at_corners, flags.clamp(0, 1), reduction="none"), asked)
    terms["corners"] = 0.25 * masked_mean(best, truth[:, 3] > 0.5)

    ends = truth[:, 13:17].view(n, 2, 2)
    height, width = shape
    inside = (ends >= 0).all(2) & (ends[..., 0] <= width - 1) & (ends[..., 1] <= height - 1) & (truth[:, :1] > 0.5)
    cost = -(logp[:, 4:] * peaks(ends, rows, columns)).sum(2)
    terms["axis"] = 0.1 * masked_mean(cost, inside)

    known = truth[:, 4] >= 0
    terms["arrangement"] = 0.5 * masked_mean(F.cross_entropy(scores[:, :4], truth[:, 4].clamp(min=0).long(), reduction="none"), known)
    upright = truth[:, 25] >= 0
    terms["turn"] = 0.25 * masked_mean(F.cross_entropy(scores[:, 11:15], truth[:, 25].clamp(min=0).long(), reduction="none"), upright)
    for i, (name, place) in enumerate(YES_OR_NO.items()):
        want = truth[:, place]
        cross = F.binary_cross_entropy_with_logits(scores[:, 4 + i], want.clamp(0, 1), reduction="none")
        # What is missing, hidden or not round is harder to see, and missing it does more harm: it counts double.
        weight = 1 + ((want == (name == "on_something")) & (name != "cut")).float()
        terms[name] = 0.5 * masked_mean(weight * cross, want >= 0)
    return sum(terms.values()), terms


def mask_loss(logit, want, counts):
    cross = (F.binary_cross_entropy_with_logits(logit, want, reduction="none") * near_border(want) * counts).mean((1, 2))
    p, want = logit.sigmoid() * counts, want * counts
    dice = 1 - (2 * (p * want).sum((1, 2)) + 8) / ((p * p).sum((1, 2)) + (want * want).sum((1, 2)) + 8)
    return 2 * cross + dice


def border_loss(logit, body, coverage, known):
    """Along the body's border, true or found: is it seen there, and is the mask right?"""
    want, seen = coverage[:, 0], coverage[:, 2]
    band = torch.maximum(reach(want), reach(body)) > 0.4
    in_sight = (reach(seen) / reach(want).clamp(min=0.3)).clamp(0, 1)
    right = in_sight * (1 - (body - want).abs())
    cross = F.binary_cross_entropy_with_logits(logit, right, reduction="none")
    return 0.25 * masked_mean(cross, band & (known > 0)[:, None, None])


def reach(mask):
    return F.max_pool2d(mask, 3, 1, 1) + F.max_pool2d(-mask, 3, 1, 1)


def near_border(want):
    """Weights of cells: the mask's border is what it is for."""
    return 1 + 2 * reach(want)


def masked_mean(x, mask):
    mask = mask.float()
    return (x * mask).sum() / mask.sum().clamp(min=1)
