"""The JSON Schemas in docs/, written from the records that are read and written."""

from pathlib import Path

from geometry.job.schema import SCHEMA_FILES, schema_text


def main() -> None:
    for name in SCHEMA_FILES:
        (Path(__file__).parent / name).write_text(schema_text(name), encoding="utf-8")
        print(name)


if __name__ == "__main__":
    main()
