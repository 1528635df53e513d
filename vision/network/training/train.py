"""Trains the outline network on pictures drawn on the fly.

python3 train.py --seconds 500 --out OUT [--resume checkpoint.pt]; several GPUs: python3 -m torch.distributed.run --nproc-per-node N train.py ...
"""

import argparse
import collections
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
from pictures import CELL, SHAPES, SHAPE_WEIGHTS, Pictures, develop
from targets import loss, mirror

TERMS = ["body", "card", "corners", "axis", "arrangement", "container", "round", "cut", "card_present"]
WARM_UP = 0.03  # part of the time in which the rate rises
STEPS_BETWEEN_LOOKS = 20  # at the clock


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--seconds", type=float, required=True)
    parser.add_argument("--out", required=True)
    parser.add_argument("--resume")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--rate", type=float, default=3e-3)
    parser.add_argument("--last-rate", type=float, default=0.0, help="the rate falls to this along half a cosine")
    parser.add_argument("--batch", type=int, default=128)
    parser.add_argument("--samples", type=int, default=16)
    parser.add_argument("--reuse", type=int, default=3, help="training steps on earlier pictures per step on new ones")
    parser.add_argument("--keep", type=int, default=300, help="batches kept for reuse")
    parser.add_argument("--device", default="cuda")
    parser.add_argument("--check", type=int, default=1024, help="fresh pictures to evaluate on at the end")
    a = parser.parse_args()
    begin = time.time()

    rank, world = int(os.environ.get("RANK", 0)), int(os.environ.get("WORLD_SIZE", 1))
    if a.device == "cuda":
        torch.cuda.set_device(rank)
    if world > 1:
        dist.init_process_group("nccl")
    work = f"{a.out}/build{rank}"
    os.makedirs(work, exist_ok=True)
    pictures = Pictures(a.device, work, a.samples)

    torch.manual_seed(a.seed)
    network = OutlineNetwork().to(a.device).to(memory_format=torch.channels_last)
    average = copy.deepcopy(network)
    if a.resume:
        saved = torch.load(a.resume, map_location=a.device)
        network.load_state_dict(saved["average"])
        average.load_state_dict(saved["average"])
    weights = list(network.parameters())
    for p in weights:
        p.grad = torch.zeros_like(p)
    decays = [p for p in weights if p.ndim > 1]
    others = [p for p in weights if p.ndim == 1]
    optimizer = torch.optim.AdamW([{"params": decays, "weight_decay": 0.02}, {"params": others, "weight_decay": 0.0}], lr=a.rate, **({"fused": True} if a.device == "cuda" else {}))
    followers = [t for t in average.state_dict().values() if t.is_floating_point()]
    leaders = [t for t in network.state_dict().values() if t.is_floating_point()]

    sums = torch.zeros(len(TERMS), device=a.device)

    def look_and_learn(radiance, coverage, truth):
        """Sets the gradients and adds to the sums."""
        torch._foreach_zero_([p.grad for p in weights])
        photo = develop(radiance.float(), None)
        with torch.autocast(a.device, dtype=torch.bfloat16, cache_enabled=False):
            maps, scores = network(photo.to(memory_format=torch.channels_last))
        total, terms = loss(maps, scores, coverage.float(), truth, photo.shape[2:])
        total.backward()
        sums.add_(torch.stack([terms[name].detach() for name in TERMS]))

    learn = Recorded(look_and_learn) if a.device == "cuda" else look_and_learn

    chooser = random.Random(a.seed * 1000 + rank)
    torch.manual_seed(a.seed * 1000 + rank)
    kept = collections.deque(maxlen=a.keep)
    step = drawn = 0
    while step % STEPS_BETWEEN_LOOKS or not time_is_up(begin + a.seconds, world, a.device):
        if step % (1 + a.reuse) == 0:
            shape = chooser.choices(SHAPES, SHAPE_WEIGHTS)[0]
            seed = (a.seed * 40_000_000 + (drawn * world + rank * a.batch)) & 0x7FFFFFFF
            radiance, coverage, truth = pictures.draw(a.batch, seed, *shape)
            item = (radiance.half(), F.avg_pool2d(coverage, CELL).half(), truth)
            kept.append(item)
            drawn += a.batch
        else:
            item = chooser.choice(kept)
        if chooser.random() < 0.5:
            item = mirror(*item)
        if chooser.random() < 0.25:  # any colour may be any other
            item = (item[0][:, chooser.sample(range(3), 3)], *item[1:])

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
            save(a.out, network, average)
    if rank == 0:
        save(a.out, network, average)
        print(f"trained {step} steps on {drawn * world} pictures in {time.time() - begin:.0f} s", flush=True)
        average.eval()
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


def save(out: str, network, average):
    torch.save({"network": network.state_dict(), "average": average.state_dict()}, f"{out}/checkpoint.pt")


if __name__ == "__main__":
    main()
