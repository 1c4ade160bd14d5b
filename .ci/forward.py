"""Writes a library for Windows on amd64 that has no code and forwards names to another:
forward.py FILE.dll NAME=LIBRARY.NAME... The form is PE32+; the numbers beside it are those of
Microsoft's description of the PE format (image headers, export directory)."""

import os
import struct
import sys

path, *pairs = sys.argv[1:]
exports = sorted(pair.split("=") for pair in pairs)
place, aligned = 0x1000, 0x200  # of the one section, in memory and in the file

# the export directory: its own table, addresses, names, numbers, then all texts
count, head = len(exports), 40
texts = b""


def text(words):
    global texts
    at = place + head + 10 * count + len(texts)
    texts += words.encode() + b"\0"
    return at


own = text(os.path.basename(path))
names = [text(name) for name, _ in exports]
targets = [text(target) for _, target in exports]  # an address within the directory is a forward
data = struct.pack("<IIHHIIIIIII", 0, 0, 0, 0, own, 1, count, count, place + head, place + head + 4 * count, place + head + 8 * count)
data += struct.pack(f"<{count}I", *targets) + struct.pack(f"<{count}I", *names) + struct.pack(f"<{count}H", *range(count)) + texts

raw = -(-len(data) // aligned) * aligned
dos = b"MZ" + bytes(58) + struct.pack("<I", 64)
coff = struct.pack("<HHIIIHH", 0x8664, 1, 0, 0, 0, 240, 0x2022)  # one section; a library
optional = struct.pack("<HBBIIIII", 0x20B, 14, 0, 0, raw, 0, 0, place)
optional += struct.pack("<QIIHHHHHHIIIIHHQQQQII", 0x180000000, 0x1000, aligned, 6, 0, 0, 0, 6, 0, 0, 0x2000, aligned, 0, 3, 0x0140, 1 << 20, 1 << 12, 1 << 20, 1 << 12, 0, 16)
optional += struct.pack("<II", place, len(data)) + bytes(15 * 8)
section = struct.pack("<8sIIIIIIHHI", b".rdata", len(data), place, raw, aligned, 0, 0, 0, 0, 0x40000040)
with open(path, "wb") as file:
    file.write((dos + b"PE\0\0" + coff + optional + section).ljust(aligned, b"\0") + data.ljust(raw, b"\0"))
