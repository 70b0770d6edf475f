"""Whisper in PyTorch, with small changes that can be learned, and the learning.

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

from pipeline.hear.open_listener import TAUGHT_WINDOWS
from pipeline.hear.taught import variables

RANK = 16
WINDOWS = TAUGHT_WINDOWS[:-1]
"""Seconds; the open listener pads an utterance to the first that holds it, and so does the learning."""
_STRENGTH = 2.0
_KEPT = {"encoder": 0.6, "decoder": 1.0}
"""Share of what was learned that is kept: of hearing not all, since it was learned from a few voices (Wortsman et al.
2022, "Robust fine-tuning of zero-shot models")."""
_RATE = 1e-3
_WARM_UP = 30
_BATCH = 16
_POOL = 20
"""Batches among which utterances of about the same length are put together."""
_PROMPTED = 0.15
"""Share of the batches that are learned after the prompt, as they will be decoded."""
_BANDS, _TIMES = (2, 12), (2, 30)
"""Most stretches of a spectrum that are hidden from the learner, and the widest (Park et al. 2019, "SpecAugment")."""
_LAYERS, _WIDTH, _POSITIONS = 4, 384, 1500

# Each matrix that learns: where PyTorch and CTranslate2 keep it (there, query, key and value are rows of one matrix).
_SELF = {
    "self_attn.q_proj": ("self_attention/linear_0", 0), "self_attn.k_proj": ("self_attention/linear_0", _WIDTH),
    "self_attn.v_proj": ("self_attention/linear_0", 2 * _WIDTH), "self_attn.out_proj": ("self_attention/linear_1", 0),
    "fc1": ("ffn/linear_0", 0), "fc2": ("ffn/linear_1", 0),
}  # fmt: skip
_ACROSS = {"encoder_attn.q_proj": ("attention/linear_0", 0), "encoder_attn.out_proj": ("attention/linear_2", 0)}
_LEARNING = {"encoder": _SELF, "decoder": _SELF | _ACROSS}
_FIXED = {"encoder_attn.k_proj": ("attention/linear_1", 0), "encoder_attn.v_proj": ("attention/linear_1", _WIDTH)}
_NORMS = {
    "self_attn_layer_norm": "self_attention/layer_norm", "encoder_attn_layer_norm": "attention/layer_norm",
    "final_layer_norm": "ffn/layer_norm",
}  # fmt: skip


@dataclass(frozen=True)
class Lesson:
    """The spectrum of an utterance (bands x frames, of which `frames` hold sound), and what is said in it."""

    spectrum: NDArray[np.float16]
    frames: int
    words: str


class Pupil:
    """Whisper, which learns to write down `Lesson`s."""

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
            total, count = self._loss(batch, prompted=self._rng.random() < _PROMPTED, hiding=True)
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
            half, _, layer, part = name.split(".", 3)
            weight, row = _LEARNING[half][part]
            place = f"{half}/layer_{layer}/{weight}/weight@{row}"
            arrays[f"{place}/up"] = (change.up * _STRENGTH * _KEPT[half]).detach().numpy().astype(np.float16)
            arrays[f"{place}/down"] = change.down.detach().numpy().astype(np.float16)
        return arrays

    def _names(self) -> list[str]:
        return [
            f"{half}.layers.{layer}.{part}"
            for half in _LEARNING
            for layer in range(_LAYERS)
            for part in _LEARNING[half]
        ]

    def _add(self, name: str) -> _Changed:
        parent, part = name.rsplit(".", 1)
        owner = self._model.model.get_submodule(parent)
        changed = _Changed(getattr(owner, part))
        setattr(owner, part, changed)
        return changed

    def _batches(self, lessons: list[Lesson]) -> Iterator[list[Lesson]]:
        shuffled = self._rng.sample(lessons, len(lessons))
        for at in range(0, len(shuffled), _BATCH * _POOL):
            pool = sorted(shuffled[at : at + _BATCH * _POOL], key=lambda lesson: lesson.frames)
            batches = [pool[first : first + _BATCH] for first in range(0, len(pool), _BATCH)]
            yield from self._rng.sample(batches, len(batches))

    def _loss(self, batch: list[Lesson], prompted: bool, hiding: bool = False) -> tuple[Any, int]:
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
        told = targets != -100
        with torch.autocast("cpu", torch.bfloat16):
            states = self._encoded(self._spectra(batch, hiding))
            hidden = self._model.model.decoder(input_ids=given, encoder_hidden_states=states, use_cache=False)
            scores = self._model.proj_out(hidden.last_hidden_state[told])
        return nn.functional.cross_entropy(scores.float(), targets[told], reduction="sum"), int(told.sum())

    def _spectra(self, batch: list[Lesson], hiding: bool) -> Any:
        """Padded to a window that holds all of them; with `hiding`, each has stretches that are set to nought."""
        longest = max(lesson.frames for lesson in batch) / 100
        window = next((one for one in WINDOWS if longest < one - 1), WINDOWS[-1])
        spectra = np.stack([lesson.spectrum[:, : int(window * 100)] for lesson in batch]).astype(np.float32)
        for lesson, spectrum in zip(batch, spectra, strict=True):
            if hiding and self._rng.random() < 0.5:
                for _ in range(self._rng.randint(0, _BANDS[0])):
                    first = self._rng.randrange(spectrum.shape[0])
                    spectrum[first : first + self._rng.randint(1, _BANDS[1])] = 0
                for _ in range(self._rng.randint(0, _TIMES[0])):
                    first = self._rng.randrange(lesson.frames)
                    spectrum[:, first : first + self._rng.randint(1, _TIMES[1])] = 0
        return torch.tensor(spectra)

    def _encoded(self, spectra: Any) -> Any:
        """As `WhisperEncoder` does it, for windows shorter than 30 seconds."""
        encoder = self._model.model.encoder
        values = nn.functional.gelu(encoder.conv1(spectra))
        values = nn.functional.gelu(encoder.conv2(values)).permute(0, 2, 1).float()
        values = values + encoder.embed_positions.weight[: values.shape[1]]
        for layer in encoder.layers:
            values = layer(values, attention_mask=None)
            values = values[0] if isinstance(values, tuple) else values
        return encoder.layer_norm(values)

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
    """Whisper tiny.en with the weights of the CTranslate2 model in `folder`."""
    found = variables((folder / "model.bin").read_bytes())
    given = {name: torch.tensor(values.astype(np.float32)) for name, values in found.items()}
    model = WhisperForConditionalGeneration(
        WhisperConfig(
            vocab_size=51864, d_model=_WIDTH, encoder_layers=_LAYERS, decoder_layers=_LAYERS, encoder_attention_heads=6,
            decoder_attention_heads=6, encoder_ffn_dim=4 * _WIDTH, decoder_ffn_dim=4 * _WIDTH,
        )
    ).eval()  # fmt: skip
    state = {
        "decoder.embed_tokens.weight": given["decoder/embeddings/weight"],
        "decoder.embed_positions.weight": given["decoder/position_encodings/encodings"],
        "encoder.embed_positions.weight": given["encoder/position_encodings/encodings"],
    }
    for conv in ("conv1", "conv2"):
        state |= {f"encoder.{conv}.{part}": given[f"encoder/{conv}/{part}"] for part in ("weight", "bias")}
    for half, matrices in {"encoder": _SELF, "decoder": _SELF | _ACROSS | _FIXED}.items():
        state |= _norm(f"{half}.layer_norm", given, f"{half}/layer_norm")
        for layer in range(_LAYERS):
            here, there = f"{half}.layers.{layer}", f"{half}/layer_{layer}"
            for part, norm in _NORMS.items():
                if half == "decoder" or not part.startswith("encoder"):
                    state |= _norm(f"{here}.{part}", given, f"{there}/{norm}")
            for part, (name, row) in matrices.items():
                size = model.model.get_submodule(f"{here}.{part}").out_features
                state[f"{here}.{part}.weight"] = given[f"{there}/{name}/weight"][row : row + size]
                if not part.endswith("k_proj"):  # Whisper's keys have no bias
                    state[f"{here}.{part}.bias"] = given[f"{there}/{name}/bias"][row : row + size]
    model.model.load_state_dict(state)
    model.proj_out.weight = model.model.decoder.embed_tokens.weight
    for weight in model.parameters():
        weight.requires_grad_(False)
    return model


def _norm(here: str, given: dict[str, Any], there: str) -> dict[str, Any]:
    return {f"{here}.weight": given[f"{there}/gamma"], f"{here}.bias": given[f"{there}/beta"]}
