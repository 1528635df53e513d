"""Trains the outline network on pictures drawn on the fly.

python3 train.py --seconds 500 --out OUT [--resume checkpoint.pt]; several GPUs: python3 -m torch.distributed.run --nproc-per-node N train.py ...
"""

import argparse
import copy
import math
import os
import random
import time

import torch
import torch.distributed as dist
import torch.nn.functional as F

from evaluate import evaluate, report
from network import OutlineNetwork
from pictures import CELL, HELD_OUT, SHAPES, SHAPE_WEIGHTS, Pictures, develop, load_light
from targets import YES_OR_NO, loss, mirror, tap, turn

TERMS = ["body", "card", "other", "border", "corner_seen", "corners", "axis", "arrangement", "turn", *YES_OR_NO]
WARM_UP = 0.03  # part of the time in which the rate rises
# Eighths of every batch that are turned clockwise by no, one, two and three quarters. The same in all of them: batch norms tell a
# batch turned one way from an upright one, and the network learns to lean on that where it looks at one picture.
TURNED = (5, 1, 1, 1)
NORM_MOMENTUM = 0.02  # batches hold pictures of one shape: what norms are to be in use is the mean over many
STEPS_BETWEEN_LOOKS = 20  # at the clock


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=float, required=True)
    parser.add_argument("--out", required=True)
    parser.add_argument("--resume", help="a checkpoint: weights, and the optimiser if it has one")
    parser.add_argument("--weights", help="the shipped weights (see start.py), where there is no checkpoint")
    parser.add_argument("--light", help="measured environments (see environments.py)")
    parser.add_argument("--held-out", default=HELD_OUT, help="environments that only test pictures have")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--rate", type=float, default=3e-3)
    parser.add_argument("--last-rate", type=float, default=0.0, help="the rate falls to this along half a cosine")
    parser.add_argument("--batch", type=int, default=128)
    parser.add_argument("--samples", type=int, default=16)
    parser.add_argument("--reuse", type=int, default=3, help="training steps for every new batch, less one")
    parser.add_argument("--settle", type=float, default=0.0, help="last part of the time, in which the norms stay as they are when the network is used")
    parser.add_argument("--keep", type=int, default=300, help="batches kept for reuse")
    parser.add_argument("--device", default="cuda")
    parser.add_argument("--check", type=int, default=1024, help="fresh pictures to evaluate on at the end")
    a = parser.parse_args()
    begin = time.time()

    rank, world = int(os.environ.get("RANK", 0)), int(os.environ.get("WORLD_SIZE", 1))
    if a.device == "cuda":
        torch.cuda.set_device(rank)
        torch.backends.cudnn.benchmark = True
    if world > 1:
        dist.init_process_group("nccl")
    work = f"{a.out}/build{rank}"
    os.makedirs(work, exist_ok=True)
    pictures = Pictures(a.device, work, a.samples, load_light(a.light, a.held_out, False) if a.light else None)

    torch.manual_seed(a.seed)
    network = OutlineNetwork().to(a.device).to(memory_format=torch.channels_last)
    for layer in network.modules():
        if isinstance(layer, torch.nn.BatchNorm2d):
            layer.momentum = NORM_MOMENTUM
    average = copy.deepcopy(network)
    saved = torch.load(a.resume, map_location=a.device) if a.resume else None
    if saved:
        network.load_state_dict(saved["average"])
    elif a.weights:
        radiance, coverage, truth = pictures.draw(64 if a.device == "cuda" else 8, 1, *SHAPES[0])
        photo = torch.cat([develop(radiance, None), torch.zeros_like(radiance[:, :1])], 1)
        begin_from(network, torch.load(a.weights, map_location=a.device), photo.to(memory_format=torch.channels_last))
    average.load_state_dict(network.state_dict())
    weights = list(network.parameters())
    for p in weights:
        p.grad = torch.zeros_like(p)
    decays = [p for p in weights if p.ndim > 1]
    others = [p for p in weights if p.ndim == 1]
    optimizer = torch.optim.AdamW([{"params": decays, "weight_decay": 0.02}, {"params": others, "weight_decay": 0.0}], lr=a.rate, **({"fused": True} if a.device == "cuda" else {}))
    if saved and "optimizer" in saved:
        optimizer.load_state_dict(unpack_optimizer(saved["optimizer"]))
    followers = [t for t in average.state_dict().values() if t.is_floating_point()]
    leaders = [t for t in network.state_dict().values() if t.is_floating_point()]

    sums = torch.zeros(len(TERMS), device=a.device)

    def look_and_learn(radiance, coverage, truth, tapped):
        """Sets the gradients and adds to the sums."""
        torch._foreach_zero_([p.grad for p in weights])
        photo = torch.cat([develop(radiance.float(), None), tapped.float()], 1)
        with torch.autocast(a.device, dtype=torch.bfloat16, cache_enabled=False):
            maps, scores = network(photo.to(memory_format=torch.channels_last))
        total, terms = loss(maps, scores, coverage.float(), truth, photo.shape[2:])
        total.backward()
        sums.add_(torch.stack([terms[name].detach() for name in TERMS]))

    learn = Recorded(look_and_learn) if a.device == "cuda" else look_and_learn

    chooser = random.Random(a.seed * 1000 + rank)
    torch.manual_seed(a.seed * 1000 + rank)
    kept = {shape: Kept(a.batch * max(2, int(a.keep * weight))) for shape, weight in zip(SHAPES, SHAPE_WEIGHTS)}
    aside = torch.cuda.Stream() if a.device == "cuda" else None
    step = drawn = 0
    settled = False

    def draw(shape):
        radiance, coverage, truth = pictures.draw(a.batch, (a.seed * 40_000_000 + drawn * world + rank * a.batch) & 0x7FFFFFFF, *shape)
        return radiance.half(), F.avg_pool2d(coverage, CELL).half(), truth

    def draw_ahead():
        """Queues the next new batch beside the training: the scenes leave most of the card idle."""
        shape = chooser.choices(SHAPES, SHAPE_WEIGHTS)[0]
        if not aside:
            return draw(shape)
        with torch.cuda.stream(aside):
            item = draw(shape)
        for x in item:
            x.record_stream(torch.cuda.current_stream())
        return item

    for shape in SHAPES:
        kept[shape].put(draw(shape))
        drawn += a.batch
    ahead = draw_ahead()
    while step % STEPS_BETWEEN_LOOKS or not time_is_up(begin + a.seconds, world, a.device):
        if step % STEPS_BETWEEN_LOOKS == 0 and a.settle and not settled and time_is_up(begin + (1 - a.settle) * a.seconds, world, a.device):
            settle(network, world)
            settled = True
            if a.device == "cuda":
                learn = Recorded(look_and_learn)
        if step % (1 + a.reuse) == 0:
            if aside:
                torch.cuda.current_stream().wait_stream(aside)
            kept[tuple(ahead[0].shape[2:])].put(ahead)
            drawn += a.batch
            ahead = draw_ahead()
        shape = chooser.choices(*zip(*[(shape, store.count) for shape, store in kept.items()]))[0]
        item = any_way_up(kept, shape, a.batch, chooser)
        item = (*item, tap(item[1].float(), item[2], 0.5).half())

        rate = schedule(min((time.time() - begin) / a.seconds, 1.0), a.rate, a.last_rate)
        for group in optimizer.param_groups:
            group["lr"] = rate
        learn(*item)
        if world > 1:
            share_gradients(weights, world)
        torch.nn.utils.clip_grad_norm_(weights, 2.0)
        optimizer.step()
        follow(followers, leaders, min(0.998, (step + 1) / (step + 20)))

        step += 1
        if step % 200 == 0 and rank == 0:
            print(f"{time.time() - begin:5.0f} s  step {step}  drawn {drawn * world}  rate {rate:.5f}  " + "  ".join(f"{k} {v / 200:.4f}" for k, v in zip(TERMS, sums.tolist())), flush=True)
            sums.zero_()
        if step % 2000 == 0 and rank == 0:
            save(a.out, average, optimizer, vars(a))
    if rank == 0:
        save(a.out, average, optimizer, vars(a))
        print(f"trained {step} steps on {drawn * world} pictures in {time.time() - begin:.0f} s", flush=True)
        average.eval()
        pictures.environments = load_light(a.light, a.held_out, True).to(a.device).float() if a.light else None
        report(evaluate(average, pictures, a.check, seed=1_900_000_000))
    if world > 1:
        dist.destroy_process_group()


def time_is_up(end: float, world: int, device: str) -> bool:
    """The same on all cards at the same step."""
    up = torch.tensor(float(time.time() >= end), device=device)
    if world > 1:
        dist.all_reduce(up)
    return up.item() > 0


def schedule(part: float, rate: float, last: float) -> float:
    if part < WARM_UP:
        return rate * (part / WARM_UP + 1e-3)
    return last + 0.5 * (rate - last) * (1 + math.cos((part - WARM_UP) / (1 - WARM_UP) * math.pi))


class Recorded:
    """A step recorded once for every shape of its inputs and played back: the GPU need not wait for Python."""

    def __init__(self, step):
        self.step, self.records, self.pool = step, {}, None

    def __call__(self, *inputs):
        if inputs[0].shape not in self.records:
            self.records[inputs[0].shape] = self.record([t.clone() for t in inputs])
        graph, places = self.records[inputs[0].shape]
        for place, t in zip(places, inputs):
            place.copy_(t)
        graph.replay()

    def record(self, places):
        aside = torch.cuda.Stream()
        aside.wait_stream(torch.cuda.current_stream())
        with torch.cuda.stream(aside):
            self.step(*places)
        torch.cuda.current_stream().wait_stream(aside)
        graph = torch.cuda.CUDAGraph()
        with torch.cuda.graph(graph, pool=self.pool, capture_error_mode="thread_local"):  # NCCL looks on from its own
            self.step(*places)
        self.pool = graph.pool()
        return graph, places


def share_gradients(weights, world: int):
    gradients = [p.grad for p in weights]
    flat = torch._utils._flatten_dense_tensors(gradients)
    dist.all_reduce(flat)
    flat /= world
    torch._foreach_copy_(gradients, list(torch._utils._unflatten_dense_tensors(flat, gradients)))


@torch.no_grad()
def follow(followers, leaders, keep: float):
    torch._foreach_mul_(followers, keep)
    torch._foreach_add_(followers, leaders, alpha=1 - keep)


class Kept:
    """The last so many pictures of one shape, of which any may be taken."""

    def __init__(self, places: int):
        self.places, self.count, self.next, self.store = places, 0, 0, None

    def put(self, item):
        n = len(item[0])
        if self.store is None:
            self.store = [torch.empty((self.places, *x.shape[1:]), dtype=x.dtype, device=x.device) for x in item]
        for store, x in zip(self.store, item):
            store[self.next : self.next + n] = x
        self.next = (self.next + n) % self.places
        self.count = min(self.count + n, self.places)

    def some(self, n: int, chooser):
        """As many, half the time mirrored, a quarter of the time with their colours changed about: any may be any other."""
        at = torch.randint(self.count, (n,), device=self.store[0].device)
        item = [store[at] for store in self.store]
        if chooser.random() < 0.5:
            item = mirror(*item)
        if chooser.random() < 0.25:
            item = (item[0][:, chooser.sample(range(3), 3)], *item[1:])
        return item


def any_way_up(kept, shape, batch: int, chooser):
    """A batch of this shape in which TURNED says how many are turned which way: on their side come those of the other shape."""
    parts = [batch * share // 8 for share in TURNED]
    parts[0] = batch - sum(parts[1:])
    turned = [turn(*kept[shape[::-1] if k % 2 else shape].some(n, chooser), k) if k else kept[shape].some(n, chooser) for k, n in enumerate(parts) if n]
    return tuple(torch.cat(x) for x in zip(*turned))


def settle(network, world: int):
    """From here on the norms are those of the network in use."""
    network.eval()
    if world > 1:
        for x in network.buffers():
            dist.broadcast(x, 0)


@torch.no_grad()
def begin_from(network, folded, photo):
    """Takes over shipped weights, whose norms are folded into them: the norms are set so that they change nothing at first."""
    convs = {name: m for name, m in network.named_modules() if isinstance(m, torch.nn.Conv2d)}
    modules = dict(network.named_modules())
    order = list(modules)
    hooks = []
    for name, layer in convs.items():
        weight, bias = folded[f"{name}.weight"], folded[f"{name}.bias"]
        own = torch.zeros_like(layer.weight) if name != "maps" and not name.startswith("scores.2") else 0.1 * layer.weight
        own[: weight.shape[0], : weight.shape[1]] = weight
        layer.weight.copy_(own)
        if layer.bias is not None:
            layer.bias.zero_()
            layer.bias[: len(bias)] = bias
            continue
        norm = next(modules[n] for n in order[order.index(name) + 1 :] if isinstance(modules[n], torch.nn.BatchNorm2d))

        def settle(norm, inputs, bias=bias):
            x = inputs[0].float()
            mean, var = x.mean((0, 2, 3)), x.var((0, 2, 3), unbiased=False)
            norm.running_mean.copy_(mean)
            norm.running_var.copy_(var)
            norm.weight.copy_((var + norm.eps).sqrt())
            norm.bias.copy_(mean + bias)

        hooks.append(norm.register_forward_pre_hook(settle))
    network.train()
    network(photo)
    for hook in hooks:
        hook.remove()


def pack_optimizer(optimizer):
    """In half precision; the second moments as their roots, which half precision can hold."""
    state = optimizer.state_dict()
    packed = {i: {"step": int(s["step"]), "mean": s["exp_avg"].half().cpu(), "root": s["exp_avg_sq"].sqrt().half().cpu()} for i, s in state["state"].items()}
    return {"state": packed, "param_groups": state["param_groups"]}


def unpack_optimizer(packed):
    state = {i: {"step": torch.tensor(float(s["step"])), "exp_avg": s["mean"].float(), "exp_avg_sq": s["root"].float() ** 2} for i, s in packed["state"].items()}
    return {"state": state, "param_groups": packed["param_groups"]}


def save(out: str, average, optimizer, how):
    weights = {name: t.half().cpu() if t.is_floating_point() else t.cpu() for name, t in average.state_dict().items()}
    torch.save({"average": weights, "optimizer": pack_optimizer(optimizer), "made by": how}, f"{out}/checkpoint.pt")


if __name__ == "__main__":
    main()
