"""Photographs: upright, no larger than needed, bare of all that their files say beside pixels.

Pillow makes the pictures, and reads back what was made of them.
"""

import os
import re
import struct
import zlib
from base64 import b64decode
from dataclasses import replace
from io import BytesIO

import numpy as np
import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms, ImageOps, PngImagePlugin

from cards.project import work_out
from cards.spec import read_spec
from cards.spec.photograph_files import LARGEST_PHOTOGRAPH, photograph_bytes
from cards.spec.photograph_models import read_photograph_path
from cards.spec.refusal import NotationError
from layouts.drawing import Picture
from layouts.folio import frame_of, pdf_file, svg_files
from layouts.photographs import check_photograph, shown
from layouts.sheet_list import SHEETS
from layouts.worked import work_out_spec
from tests.commands import TOWELS, run, start
from tests.sheets.looks import faults, flat

WORDS = "taken at 52 N 4 E by somebody"


def picture(width=400, height=300, mode="RGB"):
    """A picture whose four quarters differ: red, green, blue and white, clockwise from the left."""
    pixels = np.zeros((height, width, 3), np.uint8)
    pixels[: height // 2, : width // 2] = (200, 30, 30)
    pixels[: height // 2, width // 2 :] = (30, 200, 30)
    pixels[height // 2 :, : width // 2] = 255
    pixels[height // 2 :, width // 2 :] = (30, 30, 200)
    return Image.fromarray(pixels).convert(mode)


def written(image, form="JPEG", **more):
    stream = BytesIO()
    image.save(stream, form, **more)
    return stream.getvalue()


def exif(orientation=1):
    tags = Image.Exif()
    tags[0x0112] = orientation
    tags[0x010E] = WORDS
    tags[0x8825] = {1: "N", 2: (52.0, 0.0, 0.0), 3: "E", 4: (4.0, 0.0, 0.0)}
    return tags


def frame(**more):
    return replace(frame_of(work_out(read_spec(TOWELS)).project, "A4"), **more)


def opened(data):
    return Image.open(BytesIO(data)).convert("RGB")


def colours(image):
    """The colour in the middle of each quarter."""
    across, down = image.size
    return [
        image.getpixel((round(x * across), round(y * down)))
        for y in (0.25, 0.75)
        for x in (0.25, 0.75)
    ]


def alike(one, other, by=12):
    pairs = zip(colours(one), colours(other), strict=True)
    return all(abs(a - b) <= by for left, right in pairs for a, b in zip(left, right, strict=True))


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("form", ["JPEG", "PNG"])
def test_a_photograph_stands_upright(form, orientation):
    data = written(picture(), form, exif=exif(orientation))
    made = shown(data, 80, 80, frame())
    upright = ImageOps.exif_transpose(Image.open(BytesIO(data))).convert("RGB")
    assert alike(opened(made.data), upright)
    wide = upright.width > upright.height
    assert (made.width, made.height) == pytest.approx((80, 60) if wide else (60, 80))


SEGMENT = struct.Struct(">BBH")


def segments(data):
    """The markers of a JPEG up to its pixels (ITU-T T.81, annex B)."""
    at, found = 2, []
    while at < len(data):
        _, marker, length = SEGMENT.unpack_from(data, at)
        found.append((marker, data[at + 4 : at + 2 + length]))
        if marker == 0xDA:
            return found
        at += 2 + length
    raise AssertionError("no pixels")


def with_everything(form):
    """A file that says all that a camera and a program may say beside the pixels."""
    image = picture()
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    if form == "PNG":
        text = PngImagePlugin.PngInfo()
        text.add_text("Location", WORDS)
        text.add_itxt("XML:com.adobe.xmp", f"<x>{WORDS}</x>")
        return written(image, form, exif=exif(), icc_profile=profile, pnginfo=text)
    xmp = f"<x:xmpmeta>{WORDS}</x:xmpmeta>".encode()
    return written(image, form, exif=exif(), icc_profile=profile, comment=WORDS.encode(), xmp=xmp)


@pytest.mark.parametrize("form", ["JPEG", "PNG"])
def test_nothing_is_left_beside_the_pixels(form):
    data = with_everything(form)
    assert WORDS.encode() in data
    made = shown(data, 50, 50, frame()).data
    # JFIF, tables, frame and scan; of APP0 nothing but the 14 bytes that JFIF asks for.
    assert {marker for marker, _ in segments(made)} <= {0xE0, 0xDB, 0xC0, 0xC4, 0xDA}
    assert [len(body) for marker, body in segments(made) if marker == 0xE0] == [14]
    again = Image.open(BytesIO(made))
    assert not again.getexif()
    assert set(again.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


def printed(tmp_path, data, name="photos/a.jpg", of="sample, washed"):
    """A record with one photograph, and its project."""
    path = tmp_path / name
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(data)
    spec = tmp_path / "x.yaml"
    spec.write_text(f"{TOWELS.read_text()}\nphotographs: [{{file: {name}, of: '{of}'}}]\n")
    outcome = work_out_spec(str(spec), None)
    assert [each for each in outcome.findings if "photograph" in each.code] == []
    return outcome.project


@pytest.mark.parametrize("form", ["JPEG", "PNG"])
def test_no_place_is_left_in_pdf_and_svg(tmp_path, form):
    project = printed(tmp_path, with_everything(form))
    drawing = SHEETS["record"](project, frame_of(project))
    files = [pdf_file(project, [drawing], "x"), *svg_files(project, drawing, "x")]
    reader = pypdf.PdfReader(BytesIO(files[0].data))
    streams = [each.get_object() for each in map(reader.get_object, range(1, len(reader.xref[0]) + 1))
               if each is not None]  # fmt: skip
    texts = [file.data for file in files]
    texts += [each.get_data() for each in streams if isinstance(each, pypdf.generic.StreamObject)
              and each.get("/Subtype") != "/Image"]  # fmt: skip
    images = [image.data for page in reader.pages for image in page.images]
    for svg in files[1:]:
        images += [b64decode(found) for found in re.findall(rb"base64,([A-Za-z0-9+/=]+)", svg.data)]
    assert len(images) == 2
    for data in [*texts, *images]:
        for told in (WORDS.encode(), b"Exif", b"GPS"):
            assert told not in data


def test_a_photograph_is_no_larger_than_the_page_needs():
    data = written(picture(4000, 3000), quality=95)
    made = shown(data, 80, 60, frame())
    # 200 dots to the inch of 25.4 mm.
    assert opened(made.data).size == pytest.approx((80 / 25.4 * 200, 60 / 25.4 * 200), abs=1)
    twice = shown(data, 80, 60, frame(magnify=2.0))
    assert opened(twice.data).width == pytest.approx(80 / 25.4 * 400, abs=1)


def test_a_small_photograph_is_not_blown_up():
    made = shown(written(picture(40, 30)), 80, 60, frame())
    assert opened(made.data).size == (40, 30)
    assert (made.width, made.height) == pytest.approx((80, 60))


def test_the_same_bytes_each_time():
    data = written(picture(1200, 900), exif=exif(6))
    assert shown(data, 80, 60, frame()) == shown(data, 80, 60, frame())


def test_a_grey_page_has_a_grey_photograph():
    made = shown(written(picture()), 80, 60, frame(grey=True))
    assert Image.open(BytesIO(made.data)).mode == "L"


@pytest.mark.parametrize(
    ("form", "mode"),
    [
        ("JPEG", "L"), ("JPEG", "CMYK"), ("PNG", "L"), ("PNG", "P"), ("PNG", "1"), ("PNG", "RGBA"),
        ("PNG", "LA"), ("PNG", "I;16"),
    ],
)  # fmt: skip
def test_every_kind_of_pixel_is_read(form, mode):
    if mode == "I;16":
        grey = np.asarray(picture().convert("L")).astype(np.uint16) * 257
        image = Image.fromarray(grey)
        wanted = picture().convert("L").convert("RGB")
    else:
        # Without dithering, of which few dots are left once it is scaled down.
        image = picture().quantize() if mode == "P" else picture().convert(mode, dither=0)
        wanted = image.convert("RGB")
    assert alike(opened(shown(written(image, form), 40, 40, frame()).data), wanted)


def test_what_is_transparent_is_white():
    image = picture(mode="RGBA")
    image.putalpha(0)
    made = opened(shown(written(image, "PNG"), 40, 40, frame()).data)
    assert colours(made) == [(255, 255, 255)] * 4


def chunk(kind, data):
    body = kind + data
    return struct.pack(">I", len(data)) + body + struct.pack(">I", zlib.crc32(body))


def bomb(across, down):
    """A PNG of few bytes that says to be huge (PNG, third edition, W3C)."""
    head = struct.pack(">IIBBBBB", across, down, 8, 2, 0, 0, 0)
    data = zlib.compress(bytes(10_000))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", data) + chunk(b"IEND", b"")


def refusal(data):
    with pytest.raises(NotationError) as refused:
        check_photograph(data)
    return refused.value.code


def test_what_is_no_photograph_is_refused():
    assert refusal(b"") == "not-a-photograph"
    assert refusal(b"loomfolio: 1\n") == "not-a-photograph"
    assert refusal(b"\xff\xd8\xff\xe0") in {"not-a-photograph", "damaged-photograph"}
    for form in ("GIF", "TIFF", "WEBP", "PPM"):
        assert refusal(written(picture(), form)) == "not-a-photograph"


@pytest.mark.parametrize("form", ["JPEG", "PNG"])
def test_a_damaged_photograph_is_refused(form):
    data = written(picture(mode="RGB"), form)
    assert refusal(data[: len(data) // 2]) == "damaged-photograph"


@pytest.mark.parametrize("size", [(60_000, 60_000), (10_000, 7_000), (40_000, 10)])
def test_a_photograph_of_too_many_pixels_is_refused_unopened(size):
    assert refusal(bomb(*size)) == "photograph-too-large"


@settings(deadline=None, max_examples=200)
@given(
    st.sampled_from(["JPEG", "PNG"]),
    st.lists(st.tuples(st.integers(0, 10**6), st.integers(0, 255)), min_size=1, max_size=8),
)
def test_whatever_the_bytes_are_they_are_read_or_refused(form, changes):
    data = bytearray(with_everything(form))
    for at, byte in changes:
        data[at % len(data)] = byte
    try:
        made = shown(bytes(data), 20, 20, frame_for_all)
    except NotationError:
        return
    assert opened(made.data).size <= (158, 158)


frame_for_all = frame()


def test_only_files_in_the_folder_are_read(tmp_path):
    folder, outside = tmp_path / "project", tmp_path / "outside.jpg"
    (folder / "photos").mkdir(parents=True)
    outside.write_bytes(b"outside")
    (folder / "photos" / "in.jpg").write_bytes(b"inside")
    (folder / "out.jpg").symlink_to(outside)
    (folder / "away").symlink_to(tmp_path)
    (folder / "near.jpg").symlink_to(folder / "photos" / "in.jpg")
    (folder / "round.jpg").symlink_to("round.jpg")
    os.mkfifo(folder / "pipe.jpg")
    assert photograph_bytes(folder, "photos/in.jpg") == b"inside"
    assert photograph_bytes(folder, "near.jpg") == b"inside"
    for name, code in (
        ("out.jpg", "photograph-outside"),
        ("away/outside.jpg", "photograph-outside"),
        ("round.jpg", "unreadable"),
        ("pipe.jpg", "not-a-photograph"),
        ("photos", "not-a-photograph"),
        ("gone.jpg", "no-photograph"),
        ("photos/in.jpg/x", "unreadable"),
        ("x" * 300, "unreadable"),
    ):
        with pytest.raises(NotationError) as refused:
            photograph_bytes(folder, name)
        assert (name, refused.value.code) == (name, code)


@given(st.text(st.sampled_from("a./\\~:C"), max_size=12))
def test_no_path_leads_out_of_the_folder(text):
    try:
        path = read_photograph_path(text)
    except NotationError:
        return
    home = "/home/weaver/project"
    full = os.path.normpath(os.path.join(home, path))  # noqa: PTH118 -- as the system joins them
    assert full == home or full.startswith(f"{home}/")


def test_a_file_too_large_is_refused_unread(tmp_path):
    with (tmp_path / "a.jpg").open("wb") as file:
        file.truncate(LARGEST_PHOTOGRAPH + 1)
    with pytest.raises(NotationError) as refused:
        photograph_bytes(tmp_path, "a.jpg")
    assert refused.value.code == "photograph-too-large"


def test_a_spec_from_standard_input_has_no_folder():
    text = f"{TOWELS.read_text()}\nphotographs: [{{file: a.jpg, of: sample}}]\n"
    done = start("check", "-", input=text.encode())
    assert done.returncode == 0
    assert b"standard input has no folder" in done.stderr


def test_a_bad_photograph_is_told_with_its_place_and_nothing_is_printed(tmp_path):
    (tmp_path / "a.jpg").write_bytes(b"no photograph")
    spec = tmp_path / "x.yaml"
    text = f"{TOWELS.read_text()}\nphotographs:\n  - {{file: a.jpg, of: sample}}\n"
    spec.write_text(text)
    done = run("print", spec, "-o", tmp_path / "out")
    assert done.exit_code == 1
    line = text.count("\n")
    assert f"x.yaml:{line}:12: error: this is no photograph" in done.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5", "5 x 8 in"])
def test_photographs_stand_on_the_record(tmp_path, paper):
    project = printed(tmp_path, written(picture(900, 1200)), of="a long tale of a towel " * 4)
    one = project.photographs[0]
    gone = replace(one, file="gone.jpg", of="gone")
    project = replace(project, photographs=(one, replace(one, of="again"), gone))
    page = frame_of(project, paper)
    drawing = SHEETS["record"](project, page)
    for each in drawing.pages:
        assert faults(each, page) == []
    pictures = [m for each in drawing.pages for m in flat(each.marks) if isinstance(m, Picture)]
    assert [each.title for each in pictures] == [one.of.strip(), "again"]
    for each in pictures:
        assert each.height / each.width == pytest.approx(4 / 3, abs=0.01)


def test_without_photographs_the_record_keeps_its_box():
    project = work_out(read_spec(TOWELS)).project
    drawing = SHEETS["record"](project, frame_of(project))
    texts = [getattr(mark, "text", "") for page in drawing.pages for mark in flat(page.marks)]
    assert "photograph" in texts
