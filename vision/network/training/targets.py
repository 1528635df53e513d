"""From the truth of a batch to what the network should answer, and how wrong it is."""

import torch
import torch.nn.functional as F

from pictures import CELL

PEAK_SD_CELLS = 0.9


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
    return pictures.flip(3), coverage.flip(3), truth


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
    for i, name in enumerate(["body", "card"]):
        logit, want = maps[:, i], coverage[:, i]
        weight = (truth[:, 0] >= 0).float() if i == 0 else torch.ones_like(truth[:, 0])
        cross = (F.binary_cross_entropy_with_logits(logit, want, reduction="none") * near_border(want)).mean((1, 2))
        p = logit.sigmoid()
        dice = 1 - (2 * (p * want).sum((1, 2)) + 8) / ((p * p).sum((1, 2)) + (want * want).sum((1, 2)) + 8)
        terms[name] = (weight * (2 * cross + 0.5 * dice)).mean()

    logp = F.log_softmax(maps[:, 2:].flatten(2), 2)
    corners, tie = order_corners(truth[:, 5:13].view(n, 4, 2))
    wanted = peaks(corners, rows, columns)
    cost = -torch.einsum("nkc,njc->nkj", logp[:, :4], wanted)
    k = torch.arange(4, device=maps.device)
    plain, ahead, behind = (cost[:, k, (k + shift) % 4].mean(1) for shift in (0, 1, 3))
    best = torch.where(tie > 0, torch.minimum(plain, ahead), torch.where(tie < 0, torch.minimum(plain, behind), plain))
    terms["corners"] = 0.25 * masked_mean(best, truth[:, 3] > 0.5)

    ends = truth[:, 13:17].view(n, 2, 2)
    height, width = shape
    inside = (ends >= 0).all(2) & (ends[..., 0] <= width - 1) & (ends[..., 1] <= height - 1) & (truth[:, :1] > 0.5)
    cost = -(logp[:, 4:] * peaks(ends, rows, columns)).sum(2)
    terms["axis"] = 0.1 * masked_mean(cost, inside)

    known = truth[:, 4] >= 0
    terms["arrangement"] = 0.5 * masked_mean(F.cross_entropy(scores[:, :4], truth[:, 4].clamp(min=0).long(), reduction="none"), known)
    for i, name in enumerate(["container", "round", "cut", "card_present"]):
        want = truth[:, i]
        cross = F.binary_cross_entropy_with_logits(scores[:, 4 + i], want.clamp(0, 1), reduction="none")
        # What is missing or not round is harder to see, and missing it does more harm: it counts double.
        weight = 1 + ((want == 0) & (name != "cut")).float()
        terms[name] = 0.5 * masked_mean(weight * cross, want >= 0)
    return sum(terms.values()), terms


def near_border(want):
    """Weights of cells: the mask's border is what it is for."""
    reach = F.max_pool2d(want, 3, 1, 1) + F.max_pool2d(-want, 3, 1, 1)
    return 1 + 2 * reach


def masked_mean(x, mask):
    mask = mask.float()
    return (x * mask).sum() / mask.sum().clamp(min=1)
