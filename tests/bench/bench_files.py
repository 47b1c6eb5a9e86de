"""Time of reading job files, beside json.loads of the same bytes (floor.md, section 7; goal: at most 1.5).

python -m tests.bench.bench_files
"""

import gc
import json
from pathlib import Path
from statistics import median
from time import process_time

from geometry.job.file import job_from_bytes

DOCUMENTS, ROUNDS = 1000, 9
SAMPLE = Path(__file__).parents[2] / "samples" / "rear-hub-shouldered-axle.json"


def _documents() -> list[bytes]:
    """One sample under many titles, without line breaks as a library would hold it."""
    data = json.loads(SAMPLE.read_bytes())
    return [json.dumps(data | {"title": f"Hub {number}"}).encode() for number in range(DOCUMENTS)]


def _time_s(read, documents: list[bytes]) -> float:
    gc.collect()
    gc.disable()
    start = process_time()
    kept = [read(document) for document in documents]
    taken = process_time() - start
    gc.enable()
    assert len(kept) == DOCUMENTS
    return taken


def main() -> None:
    documents = _documents()
    rounds = [
        (_time_s(json.loads, documents), _time_s(lambda data: job_from_bytes(data, "bench"), documents))
        for _ in range(ROUNDS)
    ]
    ratios = [ours / plain for plain, ours in rounds]
    print(f"json.loads {median(plain for plain, _ in rounds) * 1e3:.0f} ms, {len(documents[0])} bytes each")
    print(f"job_from_bytes / json.loads {median(ratios):.2f} ({min(ratios):.2f}..{max(ratios):.2f})")


if __name__ == "__main__":
    main()
