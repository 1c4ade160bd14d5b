"""Packs a folder as NAME.tar.gz, or as NAME.zip for Windows, below a folder NAME: sorted,
with one date and no owner, so that the same files give the same bytes.

    archive.py FOLDER NAME OUT SECONDS PROGRAM"""

import gzip
import os
import sys
import tarfile
import time
import zipfile

folder, name, out, seconds, program = sys.argv[1:]
seconds = int(seconds)
files = sorted(os.path.relpath(os.path.join(where, f), folder) for where, _, names in os.walk(folder) for f in names)


def mode(file):
    return 0o755 if file == program else 0o644


def read(file):
    with open(os.path.join(folder, file), "rb") as f:
        return f.read()


if program.endswith(".exe"):
    path = os.path.join(out, name + ".zip")
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in files:
            info = zipfile.ZipInfo(f"{name}/{file.replace(os.sep, '/')}", time.gmtime(seconds)[:6])
            info.external_attr, info.compress_type = mode(file) << 16, zipfile.ZIP_DEFLATED
            archive.writestr(info, read(file))
else:
    path = os.path.join(out, name + ".tar.gz")
    with open(path, "wb") as raw, gzip.GzipFile("", "wb", 9, raw, mtime=seconds) as packed, tarfile.open(fileobj=packed, mode="w", format=tarfile.USTAR_FORMAT) as archive:
        for file in files:
            info = archive.gettarinfo(os.path.join(folder, file), f"{name}/{file}")
            info.uid = info.gid = 0
            info.uname = info.gname = ""
            info.mode, info.mtime = mode(file), seconds
            with open(os.path.join(folder, file), "rb") as f:
                archive.addfile(info, f)
print(f"{os.path.basename(path)}: {len(files)} files, {os.path.getsize(path) / 1e6:.1f} MB")
