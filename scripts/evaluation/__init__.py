"""How well speech becomes rows: cases said aloud, heard by the real listeners, scored. `python scripts/evaluate.py`"""
