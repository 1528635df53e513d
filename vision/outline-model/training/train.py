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
    decays = [p for p in network.parameters() if p.ndim > 1]
    others = [p for p in network.parameters() if p.ndim == 1]
    optimizer = torch.optim.AdamW([{"params": decays, "weight_decay": 0.02}, {"params": others, "weight_decay": 0.0}], lr=a.rate, **({"fused": True} if a.device == "cuda" else {}))

    chooser = random.Random(a.seed * 1000 + rank)
    kept = collections.deque(maxlen=a.keep)
    step = drawn = 0
    sums = collections.Counter()
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
        radiance, coverage, truth = (t.float() for t in item)
        photo = develop(radiance, torch.Generator(device=a.device).manual_seed(chooser.getrandbits(40)))
        if chooser.random() < 0.5:
            photo, coverage, truth = mirror(photo, coverage, truth)
        if chooser.random() < 0.25:  # any colour may be any other
            photo = photo[:, torch.randperm(3, device=a.device)]

        rate = schedule(min((time.time() - begin) / a.seconds, 1.0), a.rate, a.last_rate)
        for group in optimizer.param_groups:
            group["lr"] = rate
        with torch.autocast(a.device, dtype=torch.bfloat16):
            maps, scores = network(photo.to(memory_format=torch.channels_last))
        total, terms = loss(maps, scores, coverage, truth, photo.shape[2:])
        optimizer.zero_grad(set_to_none=True)
        total.backward()
        if world > 1:
            share_gradients(network, world)
        torch.nn.utils.clip_grad_norm_(network.parameters(), 2.0)
        optimizer.step()
        follow(average, network, min(0.998, (step + 1) / (step + 20)))

        step += 1
        for name, term in terms.items():
            sums[name] += term.detach()
        if step % 200 == 0 and rank == 0:
            print(f"{time.time() - begin:5.0f} s  step {step}  drawn {drawn * world}  rate {rate:.5f}  " + "  ".join(f"{k} {float(v) / 200:.4f}" for k, v in sums.items()), flush=True)
            sums.clear()
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


def share_gradients(network, world: int):
    gradients = [p.grad for p in network.parameters()]
    flat = torch._utils._flatten_dense_tensors(gradients)
    dist.all_reduce(flat)
    flat /= world
    for gradient, shared in zip(gradients, torch._utils._unflatten_dense_tensors(flat, gradients)):
        gradient.copy_(shared)


@torch.no_grad()
def follow(average, network, keep: float):
    mine = [t for t in average.state_dict().values() if t.is_floating_point()]
    theirs = [t for t in network.state_dict().values() if t.is_floating_point()]
    torch._foreach_mul_(mine, keep)
    torch._foreach_add_(mine, theirs, alpha=1 - keep)


def save(out: str, network, average):
    torch.save({"network": network.state_dict(), "average": average.state_dict()}, f"{out}/checkpoint.pt")


if __name__ == "__main__":
    main()
