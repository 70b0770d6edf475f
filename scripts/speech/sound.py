"""Mono sound files: read and written with PyAV, so that FLAC, WAV and Opus in Ogg work alike."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import av
import numpy as np
from numpy.typing import NDArray
from scipy.signal import resample_poly

Samples = NDArray[np.float32]

OPUS_BIT_RATE = 24_000
_CODECS = {".flac": "flac", ".wav": "pcm_s16le", ".opus": "libopus", ".ogg": "libopus"}


class SpeechError(ValueError):
    """A voice, condition or file that cannot be used; the message says what to do."""


def resample(samples: Samples, rate: int, wanted: int) -> Samples:
    """`samples` at `rate` samples a second, brought to `wanted` with an anti-aliasing filter."""
    if rate == wanted:
        return samples
    return np.asarray(resample_poly(samples, wanted, rate), dtype=np.float32)


def write(path: Path, samples: Samples, rate: int, tags: Mapping[str, str] | None = None) -> None:
    """Write mono `samples` (-1..1) to `path`; the suffix (.flac, .wav, .opus, .ogg) chooses the codec.

    Opus takes 8, 12, 16, 24 or 48 kHz and uses 3 kB a second. Raises `SpeechError`.
    """
    codec = _CODECS.get(path.suffix.lower())
    if codec is None:
        raise SpeechError(f"{path.name}: use one of the file endings {', '.join(_CODECS)}")
    # Without bitexact the Ogg serial number is drawn at random, and the same speech would give another file each time.
    # The muxer is named because PyAV otherwise picks one by suffix, and .opus would get the wrong default codec.
    muxer = "ogg" if codec == "libopus" else path.suffix.lower()[1:]
    with av.open(str(path), "w", format=muxer, container_options={"fflags": "+bitexact"}) as container:
        container.metadata.update(tags or {})
        stream: Any = container.add_stream(codec, rate=rate, layout="mono")
        if codec == "libopus":
            stream.bit_rate = OPUS_BIT_RATE
        pcm = np.round(np.clip(samples, -1, 1) * 32767).astype(np.int16)
        frame = av.AudioFrame.from_ndarray(pcm[np.newaxis, :], format="s16", layout="mono")
        frame.sample_rate = rate
        fifo = av.AudioFifo()
        fifo.write(frame)
        size = stream.codec_context.frame_size or 4096
        while block := fifo.read(size) or fifo.read(size, partial=True):
            container.mux(stream.encode(block))
        container.mux(stream.encode(None))


def read(path: Path, rate: int = 16_000) -> tuple[Samples, dict[str, str]]:
    """Mono samples at `rate`, and the file's tags (lower-case names). Raises `SpeechError`."""
    try:
        with av.open(str(path)) as container:
            stream = container.streams.audio[0]
            resampler = av.AudioResampler(format="flt", layout="mono", rate=rate)
            blocks = [
                block.to_ndarray()[0]
                for frame in [*container.decode(stream), None]
                for block in resampler.resample(frame)
            ]
            tags = {**container.metadata, **stream.metadata}
    except (av.FFmpegError, IndexError) as error:
        raise SpeechError(f"{path}: no sound could be read; check that it is a sound file ({error})") from error
    if not blocks:
        raise SpeechError(f"{path}: no sound could be read; check that it is a sound file")
    return np.concatenate(blocks).astype(np.float32), {name.lower(): value for name, value in tags.items()}
