"""What ``tankfoot merge`` does: one record of several files, the same to the byte in whatever order they are named."""

from array import array
from collections import Counter

from tankfoot import __version__
from tankfoot.office.check import counted, summary_of
from tankfoot.office.columns import number_of_instant
from tankfoot.office.latest import Identifying, Latest
from tankfoot.office.progress import progress
from tankfoot.office.spool import Spool
from tankfoot.office.told import right_files, say, stopping, written
from tankfoot.office.transfer import in_parts, laid_out


@stopping
def merge(options):
    """The exit code."""
    with Spool() as spool:
        kinds, created, latest, made = [], array("q"), Latest(), ""
        for place, read in enumerate(right_files(options.files, _taken)):
            made = max(made, read.made)
            for identities, texts, of_kinds, instants in read.gathered:
                latest.add(identities, spool.add(texts), place)
                kinds += of_kinds
                created += instants
        order = sorted(latest.numbers(options.files), key=created.__getitem__)  # of one instant by their ids
        with progress("written") as tell:
            paths = _write(options.output, spool, order, made, tell)
    summary = summary_of(Counter(kinds[number] for number in order))
    print(say("check", "right", file=", ".join(map(str, paths)), summary=summary))
    return 0


def _taken(entries):
    """(Identities, canonical texts, what they are counted as, when they were created) of ``entries``."""
    identifying, texts, kinds, created = Identifying(), [], [], array("q")
    for entry, text in entries:
        identifying.add(entry, text)
        texts.append(text.encode())
        kinds.append(counted(entry))
        created.append(number_of_instant(entry["created"]))
    return identifying.made, texts, kinds, created


def _write(output, spool, order, made, tell):
    parts = in_parts([spool.size(number) for number in order])
    paths = [output] if len(parts) == 1 else [
        output.with_name(f"{output.stem}-{number}{output.suffix}") for number in range(1, len(parts) + 1)
    ]
    for path, (start, stop) in zip(paths, parts, strict=True):
        texts = [spool[number].decode() for number in order[start:stop]]
        text = laid_out(texts, __version__, made)
        written(lambda path=path, text=text: path.write_text(text, encoding="utf-8"), path)
        tell(stop, len(order))
    return paths
