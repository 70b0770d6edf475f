"""Whisper's decoder in PyTorch, with small changes that can be learned, and the learning.

Needs what no other part of the project does: `pip install torch transformers`.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import torch
from numpy.typing import NDArray
from tokenizers import Tokenizer
from torch import nn
from transformers import WhisperConfig, WhisperForConditionalGeneration

from pipeline.hear.taught import variables

RANK = 16
_STRENGTH = 2.0
_RATE = 1e-3
_WARM_UP = 30
_BATCH = 16
_POOL = 20
"""Batches among which utterances of about the same length are put together."""
_PROMPTED = 0.15
"""Share of the batches that are learned after the prompt, as they will be decoded."""
_LAYERS, _WIDTH = 4, 384

# Each matrix that learns: where PyTorch and CTranslate2 keep it (there, query, key and value are rows of one matrix).
_LEARNING = {
    "self_attn.q_proj": ("self_attention/linear_0", 0), "self_attn.k_proj": ("self_attention/linear_0", _WIDTH),
    "self_attn.v_proj": ("self_attention/linear_0", 2 * _WIDTH), "self_attn.out_proj": ("self_attention/linear_1", 0),
    "encoder_attn.q_proj": ("attention/linear_0", 0), "encoder_attn.out_proj": ("attention/linear_2", 0),
    "fc1": ("ffn/linear_0", 0), "fc2": ("ffn/linear_1", 0),
}  # fmt: skip
_FIXED = {"encoder_attn.k_proj": ("attention/linear_1", 0), "encoder_attn.v_proj": ("attention/linear_1", _WIDTH)}
_NORMS = {
    "self_attn_layer_norm": "self_attention/layer_norm", "encoder_attn_layer_norm": "attention/layer_norm",
    "final_layer_norm": "ffn/layer_norm",
}  # fmt: skip


@dataclass(frozen=True)
class Lesson:
    """What is said in an encoded utterance."""

    states: NDArray[np.float16]
    words: str


class Pupil:
    """The decoder, which learns to write down `Lesson`s."""

    def __init__(self, folder: Path, prompt: str, seed: int = 1) -> None:
        """`folder` holds the model as published; `prompt` is what the open listener tells it."""
        torch.manual_seed(seed)
        self._rng = random.Random(seed)
        self._model = _model(folder)
        self._changes = {name: self._add(name) for name in self._names()}
        self._tokenizer = Tokenizer.from_file(str(folder / "tokenizer.json"))
        self._prompt = [self._token("<|startofprev|>"), *self._ids(" " + prompt)[-223:]]

    def learn(self, lessons: list[Lesson], epochs: int, told: Callable[[int, int], None]) -> None:
        """`told` is called with the steps done and their number."""
        learned = [weight for change in self._changes.values() for weight in (change.down, change.up)]
        optimiser = torch.optim.AdamW(learned, lr=_RATE, weight_decay=0.01)
        steps = epochs * math.ceil(len(lessons) / _BATCH)
        schedule = torch.optim.lr_scheduler.LambdaLR(
            optimiser, lambda at: min(1, at / _WARM_UP) * (1 + math.cos(math.pi * at / steps)) / 2
        )
        for step, batch in enumerate((batch for _ in range(epochs) for batch in self._batches(lessons)), 1):
            total, count = self._loss(batch, prompted=self._rng.random() < _PROMPTED)
            (total / count).backward()
            nn.utils.clip_grad_norm_(learned, 1.0)
            optimiser.step()
            schedule.step()
            optimiser.zero_grad()
            told(step, steps)

    @torch.no_grad()
    def surprise(self, lessons: list[Lesson]) -> float:
        """Mean negative log probability of a token of the words."""
        found = [self._loss(lessons[at : at + _BATCH], prompted=False) for at in range(0, len(lessons), _BATCH)]
        return sum(float(total) for total, _ in found) / sum(count for _, count in found)

    def changes(self) -> dict[str, NDArray[np.float16]]:
        """See `pipeline.hear.taught.LESSONS`."""
        arrays = {}
        for name, change in self._changes.items():
            _, layer, part = name.split(".", 2)
            weight, row = _LEARNING[part]
            place = f"decoder/layer_{layer}/{weight}/weight@{row}"
            arrays[f"{place}/up"] = (change.up * _STRENGTH).detach().numpy().astype(np.float16)
            arrays[f"{place}/down"] = change.down.detach().numpy().astype(np.float16)
        return arrays

    def _names(self) -> list[str]:
        return [f"layers.{layer}.{part}" for layer in range(_LAYERS) for part in _LEARNING]

    def _add(self, name: str) -> _Changed:
        parent, part = name.rsplit(".", 1)
        owner = self._model.model.decoder.get_submodule(parent)
        changed = _Changed(getattr(owner, part))
        setattr(owner, part, changed)
        return changed

    def _batches(self, lessons: list[Lesson]) -> Iterator[list[Lesson]]:
        shuffled = self._rng.sample(lessons, len(lessons))
        for at in range(0, len(shuffled), _BATCH * _POOL):
            pool = sorted(shuffled[at : at + _BATCH * _POOL], key=lambda lesson: len(lesson.words))
            batches = [pool[first : first + _BATCH] for first in range(0, len(pool), _BATCH)]
            yield from self._rng.sample(batches, len(batches))

    def _loss(self, batch: list[Lesson], prompted: bool) -> tuple[Any, int]:
        """Negative log probability of all tokens to write, and their number."""
        end = self._token("<|endoftext|>")
        head = [
            *(self._prompt if prompted else []),
            self._token("<|startoftranscript|>"),
            self._token("<|notimestamps|>"),
        ]
        wanted = [[*self._ids(" " + lesson.words), end] for lesson in batch]
        size = len(head) + max(map(len, wanted)) - 1
        given = torch.full((len(batch), size), end)
        targets = torch.full((len(batch), size), -100)
        for row, ids in enumerate(wanted):
            given[row, : len(head) + len(ids) - 1] = torch.tensor([*head, *ids[:-1]])
            targets[row, len(head) - 1 : len(head) - 1 + len(ids)] = torch.tensor(ids)
        states = torch.tensor(np.stack([lesson.states for lesson in batch]).astype(np.float32))
        hidden = self._model.model.decoder(input_ids=given, encoder_hidden_states=states, use_cache=False)
        told = targets != -100
        scores = self._model.proj_out(hidden.last_hidden_state[told])
        return nn.functional.cross_entropy(scores, targets[told], reduction="sum"), int(told.sum())

    def _ids(self, words: str) -> list[int]:
        return list(self._tokenizer.encode(words, add_special_tokens=False).ids)

    def _token(self, name: str) -> int:
        return int(self._tokenizer.token_to_id(name))


class _Changed(nn.Module):
    """A matrix that stays as it is, and a change of low rank (Hu et al. 2021, "LoRA") that is learned."""

    def __init__(self, fixed: nn.Linear) -> None:
        super().__init__()
        self._fixed = fixed
        self.down = nn.Parameter(torch.randn(RANK, fixed.in_features) / math.sqrt(fixed.in_features))
        self.up = nn.Parameter(torch.zeros(fixed.out_features, RANK))

    def forward(self, values: Any) -> Any:
        return self._fixed(values) + (values @ self.down.T) @ self.up.T * _STRENGTH


def _model(folder: Path) -> Any:
    """Whisper tiny.en whose decoder has the weights of the CTranslate2 model in `folder`; its encoder is not used."""
    found = variables((folder / "model.bin").read_bytes())
    given = {name: torch.tensor(values.astype(np.float32)) for name, values in found.items()}
    model = WhisperForConditionalGeneration(
        WhisperConfig(
            vocab_size=51864, d_model=_WIDTH, encoder_layers=1, decoder_layers=_LAYERS, encoder_attention_heads=6,
            decoder_attention_heads=6, encoder_ffn_dim=64, decoder_ffn_dim=4 * _WIDTH,
        )
    ).eval()  # fmt: skip
    state = {
        "embed_tokens.weight": given["decoder/embeddings/weight"],
        "embed_positions.weight": given["decoder/position_encodings/encodings"],
        "layer_norm.weight": given["decoder/layer_norm/gamma"],
        "layer_norm.bias": given["decoder/layer_norm/beta"],
    }
    for layer in range(_LAYERS):
        here, there = f"layers.{layer}", f"decoder/layer_{layer}"
        for part, norm in _NORMS.items():
            state[f"{here}.{part}.weight"] = given[f"{there}/{norm}/gamma"]
            state[f"{here}.{part}.bias"] = given[f"{there}/{norm}/beta"]
        for part, (name, row) in (_LEARNING | _FIXED).items():
            size = model.model.decoder.get_submodule(f"{here}.{part}").out_features
            state[f"{here}.{part}.weight"] = given[f"{there}/{name}/weight"][row : row + size]
            if not part.endswith("k_proj"):  # Whisper's keys have no bias
                state[f"{here}.{part}.bias"] = given[f"{there}/{name}/bias"][row : row + size]
    model.model.decoder.load_state_dict(state)
    model.proj_out.weight = model.model.decoder.embed_tokens.weight
    for weight in model.parameters():
        weight.requires_grad_(False)
    return model
