"""Reads the weights out of the shipped network, to go on from them without a checkpoint: python3 start.py outline-model.onnx start.pt"""

import sys

import onnx
import torch
from onnx import numpy_helper


def main(path: str, out: str) -> None:
    graph = onnx.load(path).graph
    weights = {t.name.removesuffix(".half"): torch.from_numpy(numpy_helper.to_array(t).copy()).float() for t in graph.initializer}
    # A convolution's inputs are its data, weight and bias; folded ones have names of their own.
    torch.save({name: t for name, t in weights.items() if name.endswith((".weight", ".bias"))}, out)
    print("\n".join(f"{name} {tuple(t.shape)}" for name, t in weights.items()))


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2])
