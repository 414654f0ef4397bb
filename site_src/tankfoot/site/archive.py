"""The whole site in one file, to be carried to wherever it will stand, and the sum that shows it came whole."""

import hashlib
import zipfile

DATE = (1980, 1, 1, 0, 0, 0)  # the earliest that a ZIP file can name: a build has no date of its own
MODE = 0o100644 << 16  # a plain file that all may read, however strict the machine that builds


def zipped(folder, archive):
    """Writes the files of ``folder`` into the ZIP file ``archive``, and ``archive.sha256`` beside it, which
    ``sha256sum -c`` reads (GNU coreutils). The same files give the same bytes. OSError where it cannot be written.
    """
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as packing:
        for path in sorted(path for path in folder.rglob("*") if path.is_file()):
            member = zipfile.ZipInfo(path.relative_to(folder).as_posix(), DATE)
            member.external_attr, member.create_system = MODE, 3  # Unix
            packing.writestr(member, path.read_bytes(), zipfile.ZIP_DEFLATED, 9)
    told = hashlib.sha256(archive.read_bytes()).hexdigest()
    archive.with_name(f"{archive.name}.sha256").write_text(f"{told}  {archive.name}\n", encoding="utf-8")
