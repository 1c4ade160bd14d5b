"""Holds a program against the system and processor that it was built for: the header of its
file, and on macOS for arm64, which starts nothing unsigned, the signature that the linker
puts on it, page by page.

    headers.py PROGRAM SYSTEM/PROCESSOR"""

import hashlib
import struct
import sys

path, target = sys.argv[1:]
system, processor = target.split("/")
with open(path, "rb") as file:
    data = file.read()


def must(what, got, wanted):
    if got != wanted:
        sys.exit(f"fail {target}: {what} is {got!r}, not {wanted!r}")


def elf():
    must("magic and class", data[:5], b"\x7fELF\x02")
    kind, machine = struct.unpack_from("<HH", data, 16)
    must("kind, an executable", kind in (2, 3), True)
    must("processor", machine, {"amd64": 62, "arm64": 183}[processor])
    return "ELF"


def portable():
    must("magic", data[:2], b"MZ")
    at = struct.unpack_from("<I", data, 0x3C)[0]
    must("signature", data[at : at + 4], b"PE\0\0")
    must("processor", struct.unpack_from("<H", data, at + 4)[0], {"amd64": 0x8664, "arm64": 0xAA64}[processor])
    must("form, PE32+", struct.unpack_from("<H", data, at + 24)[0], 0x20B)
    must("subsystem, a console", struct.unpack_from("<H", data, at + 24 + 68)[0], 3)
    return "PE32+ for a console"


def mach():
    magic, cpu, _, kind, count, _, flags, _ = struct.unpack_from("<8I", data)
    must("magic", magic, 0xFEEDFACF)
    must("processor", cpu, {"amd64": 0x01000007, "arm64": 0x0100000C}[processor])
    must("kind, an executable", kind, 2)
    must("flag of a place of its own each time (PIE)", bool(flags & 0x200000), True)
    at, signature, oldest = 32, None, None
    for _ in range(count):
        command, size = struct.unpack_from("<II", data, at)
        if command == 0x1D:  # LC_CODE_SIGNATURE
            signature = struct.unpack_from("<II", data, at + 8)
        if command == 0x32:  # LC_BUILD_VERSION
            oldest = struct.unpack_from("<I", data, at + 12)[0] >> 16
        at += size
    says = "Mach-O" + (f" for macOS {oldest} and later" if oldest else "")
    if signature is None:
        must("signature", processor, "amd64")  # where none is asked for
        return says
    start, size = signature
    must("signature, at the end of the file", start + size, len(data))
    # numbers of a signature have their high byte first
    magic, _, blobs = struct.unpack_from(">3I", data, start)
    must("magic of the signature", (magic, blobs), (0xFADE0CC0, 1))
    slot, offset = struct.unpack_from(">2I", data, start + 12)
    directory = start + offset
    magic, _, _, flags, hashes, _, special, pages, limit = struct.unpack_from(">9I", data, directory)
    must("directory of the signature", (slot, magic, special), (0, 0xFADE0C02, 0))
    must("flag of a signature without an owner", bool(flags & 0x2), True)
    length, kind, _, power = data[directory + 36 : directory + 40]
    must("hashes, SHA-256", (length, kind), (32, 2))
    must("end of what is signed", limit, start)
    must("pages", pages, -(-limit >> power) if limit % (1 << power) == 0 else (limit >> power) + 1)
    for k in range(pages):
        page = data[k << power : min((k + 1) << power, limit)]
        must(f"hash of page {k}", data[directory + hashes + 32 * k :][:32], hashlib.sha256(page).digest())
    return f"{says}, signed by its linker, {pages} pages as signed"


print(f"pass {target}: {({'linux': elf, 'windows': portable, 'darwin': mach}[system])()}")
