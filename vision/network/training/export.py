"""Writes the trained network as ONNX with half-precision weights: python3 export.py checkpoint.pt outline-model.onnx"""

import io
import sys

import numpy as np
import onnx
import torch
from onnx import helper, numpy_helper

from network import MAPS, SCORES, OutlineNetwork

# The likeliest temperature of each answer, from the last table of "evaluate.py --seen-light" on this checkpoint; 1 where it is within 0.07 of 1.
TEMPERATURES = {"cut": 1.08, "card": 1.13, "corner-seen": 1.08, "border": 0.5}


def fold_batch_norms(module: torch.nn.Module) -> None:
    for name, child in module.named_children():
        fold_batch_norms(child)
    names = list(module._modules)
    for a, b in zip(names, names[1:]):
        first, second = module._modules[a], module._modules[b]
        if isinstance(first, torch.nn.Conv2d) and isinstance(second, torch.nn.BatchNorm2d):
            module._modules[a] = torch.nn.utils.fusion.fuse_conv_bn_eval(first, second)
            module._modules[b] = torch.nn.Identity()


def export(network: OutlineNetwork, path: str) -> None:
    network = network.float().cpu().eval()
    fold_batch_norms(network)
    for names, layer in ((MAPS, network.maps), (SCORES, network.scores[-1])):
        divisor = torch.tensor([TEMPERATURES.get(name, 1.0) for name in names])
        layer.weight.data /= divisor.view(-1, 1, 1, 1)
        layer.bias.data /= divisor
    stream = io.BytesIO()
    torch.onnx.export(network, torch.zeros(1, 4, 320, 240), stream, opset_version=12, **({"dynamo": False} if torch.__version__ >= "2.5" else {}), input_names=["picture"], output_names=["maps", "scores"],
                      dynamic_axes={"picture": {2: "height", 3: "width"}, "maps": {2: "rows", 3: "columns"}})
    model = onnx.load_from_string(stream.getvalue())
    # OpenCV wants a size to start from; it takes any other afterwards.
    _, _, height, width = model.graph.input[0].type.tensor_type.shape.dim
    height.dim_value, width.dim_value = 320, 240
    halve_weights(model.graph)
    onnx.save(model, path)


def halve_weights(graph) -> None:
    """Stores each large weight as float16 followed by a Cast to float32, which the reader folds away."""
    casts = []
    for tensor in graph.initializer:
        if tensor.data_type != onnx.TensorProto.FLOAT or int(np.prod(tensor.dims)) < 64:
            continue
        half = numpy_helper.from_array(numpy_helper.to_array(tensor).astype(np.float16), tensor.name + ".half")
        casts.append(helper.make_node("Cast", [half.name], [tensor.name], to=onnx.TensorProto.FLOAT))
        tensor.CopyFrom(half)
    for cast in reversed(casts):
        graph.node.insert(0, cast)


if __name__ == "__main__":
    net = OutlineNetwork()
    if sys.argv[1] != "untrained":
        net.load_state_dict(torch.load(sys.argv[1], map_location="cpu")["average"])
    else:
        torch.manual_seed(0)
    export(net, sys.argv[2])
