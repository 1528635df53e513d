"""Times the OpenCV calls that Roundwise makes in Debian's native OpenCV, one thread: PHOTO WEIGHTS RUNS -> JSON, ms."""

import json
import sys
import tempfile
import time

import cv2
import numpy

photo_path, weights_path, runs = sys.argv[1], sys.argv[2], int(sys.argv[3])
cv2.setNumThreads(1)
photo = cv2.cvtColor(cv2.imread(photo_path), cv2.COLOR_BGR2RGBA)
height, width = photo.shape[:2]
scale = 1 / max(width, height)
working = (round(1008 * scale * width), round(1008 * scale * height))
glance = tuple(max(64, round(320 * scale * side / 16) * 16) for side in (width, height))
rgb = cv2.cvtColor(cv2.resize(photo, glance, interpolation=cv2.INTER_AREA), cv2.COLOR_RGBA2RGB)


def network():
    """Debian's OpenCV neither reads half-precision weights nor divides many channels by one number: python3-onnx widens the
    weights, and makes as many channels of the number; None without it."""
    try:
        import onnx
        from onnx import helper, numpy_helper
    except ImportError:
        return None
    model = onnx.load(weights_path)
    for weights in model.graph.initializer:
        if weights.data_type == onnx.TensorProto.FLOAT16:
            weights.CopyFrom(numpy_helper.from_array(numpy_helper.to_array(weights).astype("float32"), weights.name))
    seen = onnx.shape_inference.infer_shapes(model).graph.value_info
    shapes = {value.name: value.type.tensor_type.shape.dim for value in seen}
    channels = {name: shape[1].dim_value for name, shape in shapes.items() if len(shape) == 4}
    for index, node in reversed(list(enumerate(model.graph.node))):
        if node.op_type == "Div":
            many, one = node.input
            model.graph.initializer.append(
                numpy_helper.from_array(numpy.ones((channels[many], 1, 1, 1), "float32"), f"{one}_ones")
            )
            model.graph.node.insert(index, helper.make_node("Conv", [one, f"{one}_ones"], [f"{one}_many"], kernel_shape=[1, 1]))
            node.input[1] = f"{one}_many"
    with tempfile.NamedTemporaryFile(suffix=".onnx") as file:
        onnx.save(model, file.name)
        return cv2.dnn.readNetFromONNX(file.name)


net = network()


def forward():
    net.setInput(cv2.dnn.blobFromImage(rgb, 1 / 255, glance))
    net.forward(["maps", "scores"])


calls = {
    "resizeToWorking": lambda: cv2.resize(photo, working, interpolation=cv2.INTER_AREA),
    "resizeToGlance": lambda: cv2.resize(photo, glance, interpolation=cv2.INTER_AREA),
    **({"network": forward} if net else {}),
}


def median_ms(call):
    call()
    took = []
    for _ in range(runs):
        start = time.perf_counter()
        call()
        took.append(1000 * (time.perf_counter() - start))
    return sorted(took)[runs // 2]


print(json.dumps({"version": cv2.__version__, "ms": {name: median_ms(call) for name, call in calls.items()}}))
