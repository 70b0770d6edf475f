"""Makes the recordings and cases in demo_audio/ again from their scripts: python scripts/make_demo_audio.py"""

from __future__ import annotations

import json
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from scripts.speech import demo
from scripts.speech.recognise import error_rate
from scripts.speech.sound import SpeechError


def main() -> None:
    try:
        cases = []
        for path in demo.scripts():
            case = demo.make(path)
            cases.append(case)
            heard = " ".join(block["text"] for block in case["transcript"])
            made = demo.sound_path(path)
            print(
                f"{made.name}: {case['sentences'][-1]['end']:.0f} s, {made.stat().st_size / 1000:.0f} kB, "
                f"{len(case['rows'])} rows, "
                f"word error rate {error_rate(case['clean'], heard):.3f}"
            )
        lines = "".join(json.dumps(case, ensure_ascii=False) + "\n" for case in cases)
        demo.CASES.write_text(lines, encoding="utf-8")
    except (SpeechError, OSError) as error:
        sys.exit(f"make_demo_audio: {error}")


if __name__ == "__main__":
    main()
