"""Averages the weights of two checkpoints: python3 average.py a.pt share-of-a b.pt out.pt

Runs that go on from one another lie in one valley; between them the masks are steadier than at either end
(Wortsman et al., Model soups, 2022).
"""

import sys

import torch


def average(a, share: float, b):
    return {name: (share * a[name].double() + (1 - share) * b[name].double()).to(a[name].dtype) for name in a}


if __name__ == "__main__":
    first, share, second, out = sys.argv[1:5]
    a, b = (torch.load(path, map_location="cpu")["average"] for path in (first, second))
    torch.save({"average": average(a, float(share), b)}, out)
