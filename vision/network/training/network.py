"""The outline network: a picture in, maps and whole-picture scores out; MAPS and SCORES give their order."""

import torch
from torch import nn
from torch.nn import functional as F

MAPS = ["body", "card", "corner0", "corner1", "corner2", "corner3", "base", "top", "other", "corner-seen", "border"]
SCORES = ["standing", "lying", "card-on-front", "card-leaning", "container", "round", "cut", "card", "base-seen", "top-seen", "on-something", "turn0", "turn1", "turn2", "turn3"]


def conv(inputs: int, outputs: int, size: int = 3, stride: int = 1, dilation: int = 1, groups: int = 1) -> nn.Sequential:
    padding = dilation * (size // 2)
    layer = nn.Conv2d(inputs, outputs, size, stride, padding, dilation, groups, bias=False)
    return nn.Sequential(layer, nn.BatchNorm2d(outputs), nn.ReLU())


class Residual(nn.Module):
    def __init__(self, channels: int, dilation: int = 1):
        super().__init__()
        self.a = conv(channels, channels, dilation=dilation)
        self.b = nn.Conv2d(channels, channels, 3, padding=1, bias=False)
        self.norm = nn.BatchNorm2d(channels)

    def forward(self, x):
        return F.relu(x + self.norm(self.b(self.a(x))))


class Wide(nn.Module):
    """Looks 5 by 5 cells around, one channel at a time, then mixes the channels."""

    def __init__(self, channels: int):
        super().__init__()
        self.look = nn.Sequential(nn.Conv2d(channels, channels, 5, padding=2, groups=channels, bias=False), nn.BatchNorm2d(channels))
        self.mix = conv(channels, 2 * channels, 1)
        self.back = nn.Sequential(nn.Conv2d(2 * channels, channels, 1, bias=False), nn.BatchNorm2d(channels))

    def forward(self, x):
        return F.relu(x + self.back(self.mix(self.look(x))))


def mean_over(features, mask, least=1e-3):
    return F.adaptive_avg_pool2d(features * mask, 1) / (F.adaptive_avg_pool2d(mask, 1) + least)


def at_peak(features, logits):
    """Features where a map (n, 1, 2 rows, 2 columns) is near its highest."""
    near = torch.exp(torch.clamp(logits - F.adaptive_max_pool2d(logits, 1), min=-20.0))
    return mean_over(features, F.avg_pool2d(near, 2), 1e-6)


class OutlineNetwork(nn.Module):
    """Input (n, 4, H, W), H and W multiples of 16: red, green, blue in 0..1 and the tap (see targets.py), all 0 for none.

    Maps (n, 11, H/4, W/4) and scores (n, 15), all logits.
    """

    def __init__(self):
        super().__init__()
        self.register_buffer("scale", torch.tensor([2.0, 2.0, 2.0, 1.0]).view(1, 4, 1, 1))
        self.register_buffer("shift", torch.tensor([1.0, 1.0, 1.0, 0.0]).view(1, 4, 1, 1))
        self.stem = conv(4, 16, stride=2)
        self.quarter = nn.Sequential(conv(16, 32, stride=2), Residual(32))
        self.eighth = nn.Sequential(conv(32, 64, stride=2), Residual(64))
        self.sixteenth = nn.Sequential(conv(64, 128, stride=2), Residual(128, 2), Wide(128), Wide(128), Wide(128), Wide(128))
        self.whole = nn.Sequential(nn.Conv2d(128, 64, 1), nn.ReLU(), nn.Conv2d(64, 128, 1))
        self.up_eighth = conv(128, 64, 1)
        self.join_eighth = Residual(64)
        self.up_quarter = conv(64, 32, 1)
        self.join_quarter = nn.Sequential(conv(32, 32), conv(32, 32))
        self.maps = nn.Conv2d(32, len(MAPS), 1)
        self.score_features = conv(128, 128, 1)
        self.scores = nn.Sequential(nn.Conv2d(3 * 128 + 3 * 64, 64, 1), nn.ReLU(), nn.Conv2d(64, len(SCORES), 1))

    def forward(self, x):
        quarter = self.quarter(self.stem(x * self.scale - self.shift))
        eighth = self.eighth(quarter)
        deep = self.sixteenth(eighth)
        deep = deep + self.whole(F.adaptive_avg_pool2d(deep, 1))
        up = F.interpolate(self.up_eighth(deep), scale_factor=2.0, mode="nearest")
        eighth = self.join_eighth(eighth + up)
        up = F.interpolate(self.up_quarter(eighth), scale_factor=2.0, mode="nearest")
        maps = self.maps(self.join_quarter(quarter + up))
        features = self.score_features(deep)
        body = maps[:, :1].detach().sigmoid()
        seen = [F.adaptive_avg_pool2d(features, 1), F.adaptive_max_pool2d(features, 1), mean_over(features, F.avg_pool2d(body, 4)), mean_over(eighth, F.avg_pool2d(body, 2))]
        seen += [at_peak(eighth, maps[:, i : i + 1].detach()) for i in (6, 7)]
        return maps, self.scores(torch.cat(seen, 1)).flatten(1)
