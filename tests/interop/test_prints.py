"""The prints, read back and measured by readers that know nothing of the program."""

import json
import re
import subprocess

import pymupdf
import pytest

from conftest import FOUR_METRES, baywright, tool

POINTS = 72.0 / 25.4
SIZES = {"a4": (297.0, 210.0), "a3": (420.0, 297.0)}


def pdf_of(folder):
    (path,) = folder.glob("*.pdf")
    return path


def segments(page):
    """Every straight line on the page as (x0, y0, x1, y1) in millimetres."""
    found = []
    for drawing in page.get_drawings():
        for item in drawing["items"]:
            if item[0] == "l":
                corners = [item[1], item[2]]
            elif item[0] == "re":
                r = item[1]
                corners = [r.tl, r.tr, r.br, r.bl, r.tl]
            elif item[0] == "qu":
                q = item[1]
                corners = [q.ul, q.ur, q.lr, q.ll, q.ul]
            else:
                continue
            found += [
                (a.x / POINTS, a.y / POINTS, b.x / POINTS, b.y / POINTS)
                for a, b in zip(corners, corners[1:])
            ]
    return found


def levels(page):
    """The level lines: (length, left end, height on the page)."""
    return [
        (abs(x1 - x0), min(x0, x1), y0) for x0, y0, x1, y1 in segments(page) if abs(y1 - y0) < 0.001
    ]


def plumbs(page):
    """The plumb lines: (length, place from the left, top)."""
    return [
        (abs(y1 - y0), x0, min(y0, y1)) for x0, y0, x1, y1 in segments(page) if abs(x1 - x0) < 0.001
    ]


def scale_of(page):
    return float(re.search(r"1\s*:\s*(\d+(?:\.\d+)?)", page.get_text()).group(1))


def test_the_file_is_sound(prints):
    path = pdf_of(prints)
    tool("qpdf", "--check", str(path))
    document = pymupdf.open(path)
    assert not document.is_repaired and len(document) >= 1
    assert pymupdf.TOOLS.mupdf_warnings() == ""


def test_readers_have_nothing_to_say(prints):
    """The two readers of most desktops read all of it without a word: poppler, and MuPDF above."""
    path = str(pdf_of(prints))
    for reader in (["pdfinfo", "-struct", path], ["pdftotext", path, "-"]):
        done = subprocess.run(reader, capture_output=True, timeout=120, check=False)
        assert done.returncode == 0 and done.stdout
        assert done.stderr == b"", done.stderr.decode()


def strips(page):
    """The strips of a rod on a page, from the top: left edge, top, right edge."""
    found = set()
    for drawing in page.get_drawings():
        box = drawing["rect"]
        x0, y0, x1, y1 = (v / POINTS for v in (box.x0, box.y0, box.x1, box.y1))
        if abs((y1 - y0) - 40.0) < 0.05 and x1 - x0 > 5.0:
            found.add((round(y0, 2), round(x0, 3), round(x1, 3)))
    return sorted(found)


def timbers(page, top):
    """What is drawn as timber on the strip at `top`: from where to where."""
    for drawing in page.get_drawings():
        box = drawing["rect"]
        x0, y0, x1, y1 = (v / POINTS for v in (box.x0, box.y0, box.x1, box.y1))
        if drawing["fill"] and abs((y1 - y0) - 31.0) < 0.05 and abs(y0 - top - 9.0) < 0.05:
            yield x0, x1


@pytest.mark.parametrize("sheet", [["a4"], ["a4", "--upright"], ["a3"]], ids=" ".join)
def test_the_strips_of_a_rod_join(tmp_path, sheet):
    """Laid end to end the strips are as long as the frame, and every upright stands at its own distance and is as thick as it is, to
    a tenth of a millimetre, those that two strips share too."""
    answer = json.loads(baywright("setout", FOUR_METRES, "--json").stdout)
    members = json.loads(baywright("schedule", FOUR_METRES, "--json").stdout)["members"]
    (wall,) = answer["walls"]
    name = wall["wall"]
    done = baywright(
        "sheets", FOUR_METRES, "-o", tmp_path / "out", "--paper", *sheet, "--only", f"rod-{name}"
    )
    assert done.returncode == 0, done.stderr.decode()
    document = pymupdf.open(pdf_of(tmp_path / "out"))
    laid, pieces, count = 0.0, [], 0
    for page in document:
        if "sole rod" not in page.get_text():
            continue
        for top, left, right in strips(page):
            for x0, x1 in timbers(page, top):
                pieces.append((laid + x0 - left, laid + x1 - left))
            # Every hundred millimetres a figure under its tick.
            for word in page.get_text("words"):
                x, y, text = (word[0] + word[2]) / 2 / POINTS, word[1] / POINTS, word[4]
                if top < y < top + 9.0 and text.isdigit() and int(text) % 100 == 0:
                    assert laid + x - left == pytest.approx(int(text), abs=0.6), text
            laid += right - left
            count += 1
    assert count > 2
    assert laid == pytest.approx(wall["length_mm"], abs=0.1)
    joined = []
    for low, high in sorted(pieces):
        if joined and abs(joined[-1][1] - low) < 0.1 and joined[-1][1] - joined[-1][0] < 45.0:
            joined[-1] = (joined[-1][0], high)
        else:
            joined.append((low, high))
    thick = {m["mark"]: m["section"]["thickness_mm"] for m in members}
    for mark in wall["marks"]:
        (found,) = [p for p in joined if abs(p[0] - mark["near_edge_mm"]) < 0.1]
        assert found[1] - found[0] == pytest.approx(thick[mark["mark"]], abs=0.1)


@pytest.mark.parametrize("paper", SIZES)
def test_pages_have_the_size_of_their_paper(tmp_path, paper):
    """A4 210 × 297 and A3 297 × 420 mm: ISO 216."""
    done = baywright("sheets", FOUR_METRES, "-o", tmp_path / "out", "--paper", paper)
    assert done.returncode == 0, done.stderr.decode()
    for page in pymupdf.open(pdf_of(tmp_path / "out")):
        size = (page.mediabox.width / POINTS, page.mediabox.height / POINTS)
        assert size == pytest.approx(SIZES[paper], abs=0.05)


def test_the_check_line_is_100_mm_on_every_page(prints):
    for page in pymupdf.open(pdf_of(prints)):
        foot = page.mediabox.height / POINTS - 40
        lengths = [length for length, _, y in levels(page) if y > foot]
        assert any(length == pytest.approx(100.0, abs=0.1) for length in lengths), page.number
        assert "100 mm" in page.get_text()


def test_fonts_are_embedded(prints):
    document = pymupdf.open(pdf_of(prints))
    fonts = {font[0]: font for page in document for font in page.get_fonts()}
    assert fonts
    for number, font in fonts.items():
        _, extension, _, data = document.extract_font(number)
        assert extension not in ("n/a", "") and len(data) > 1000, font


def test_the_file_tells_of_no_person_and_no_path(prints):
    document = pymupdf.open(pdf_of(prints))
    said = " ".join(str(v) for v in document.metadata.values()) + (document.get_xml_metadata() or "")
    assert document.metadata["title"]
    assert not document.metadata["author"]
    for word in ("/home", "/root", "/Users", "\\\\", "localhost", str(prints)):
        assert word not in said


def test_lettering_can_be_searched(prints, schedule):
    document = pymupdf.open(pdf_of(prints))
    text = "\n".join(page.get_text() for page in document)
    assert "Check on site before cutting" in text
    for member in schedule["members"]:
        if member["wall"] is not None:
            assert f"Wall {member['wall']}" in text
        else:
            assert member["platform"] in text
    marks = {m["mark"].rsplit("-", 1)[1] for m in schedule["members"]}
    words = set(re.findall(r"[A-Z]\d+", text))
    # Lists write neighbours that are cut alike as “N8–N12”.
    for letter, first, last in re.findall(r"([A-Z])(\d+)\s*–\s*(?:[A-Z])?(\d+)", text):
        words |= {f"{letter}{n}" for n in range(int(first), int(last) + 1)}
    assert marks <= words, f"not on paper: {sorted(marks - words)}"


def test_lettering_is_at_least_2_5_mm_high(prints):
    """ISO 3098: capitals of 2.5 mm at least. A capital of this typeface is 0.729 of its size."""
    for page in pymupdf.open(pdf_of(prints)):
        for block in page.get_text("dict")["blocks"]:
            for line in block.get("lines", []):
                for span in line["spans"]:
                    capital = span["size"] / POINTS * 0.729
                    assert capital >= 2.45, f"{span['text']!r} is {capital:.2f} mm high"


def lettering(page):
    """Every run of lettering with the box round its capitals."""
    for block in page.get_text("dict")["blocks"]:
        for line in block.get("lines", []):
            across, up = line["dir"]
            for span in line["spans"]:
                box = pymupdf.Rect(span["bbox"])
                capital = span["size"] * 0.729
                x, y = span["origin"]
                if abs(across) > 0.9:
                    box.y0, box.y1 = y - capital, y
                elif up < 0:
                    box.x0, box.x1 = x - capital, x
                else:
                    box.x0, box.x1 = x, x + capital
                if span["text"].strip():
                    yield span["text"], box


def test_no_lettering_lies_over_other_lettering(prints):
    for page in pymupdf.open(pdf_of(prints)):
        said = list(lettering(page))
        for i, (one, box) in enumerate(said):
            for other, other_box in said[i + 1 :]:
                both = box & other_box
                over = not both.is_empty and both.width > 0.5 and both.height > 0.5
                assert not over, f"page {page.number + 1}: {one!r} and {other!r}"


def test_nothing_leaves_the_sheet(prints):
    for page in pymupdf.open(pdf_of(prints)):
        width, height = page.mediabox.width / POINTS, page.mediabox.height / POINTS
        for x0, y0, x1, y1 in segments(page):
            assert -0.01 <= min(x0, x1) and max(x0, x1) <= width + 0.01, page.number
            assert -0.01 <= min(y0, y1) and max(y0, y1) <= height + 0.01, page.number
        for x0, y0, x1, y1, word, *_ in page.get_text("words"):
            assert x0 >= 0 and y0 >= 0, word
            assert x1 <= page.mediabox.width and y1 <= page.mediabox.height, word


@pytest.mark.parametrize("paper", SIZES)
def test_a_wall_of_4_m_measures_4_m(tmp_path, paper):
    """Plate, studs and holes of a wall measured on paper and multiplied by the scale, to 0.1 mm."""
    done = baywright("sheets", FOUR_METRES, "-o", tmp_path / "out", "--paper", paper)
    assert done.returncode == 0, done.stderr.decode()
    schedule = json.loads(baywright("schedule", FOUR_METRES, "--json").stdout)
    (page,) = [p for p in pymupdf.open(pdf_of(tmp_path / "out")) if "Wall A" in p.get_text()[:4000] and "seen on" in p.get_text()][:1]
    scale = scale_of(page)

    plates = [(left, y) for length, left, y in levels(page) if abs(length * scale - 4000.0) <= 0.1]
    assert len(plates) >= 2, "the head plate's two edges are 4,000 long"
    start = min(left for left, _ in plates)

    uprights = [m for m in schedule["members"] if m["role"].endswith("stud")]
    assert len(uprights) > 8
    # The finished floor on the page, from the underside of the sole, which stands on it.
    for member in uprights:
        xs = [c[0] for c in member["corners"]]
        for edge in (min(xs), max(xs)):
            seen = [
                length
                for length, x, _ in plumbs(page)
                if abs((x - start) * scale - edge) <= 0.1
            ]
            assert any(
                abs(length * scale - member["cut_length_mm"]) <= 0.1 for length in seen
            ), f"{member['mark']} has no edge at {edge}"


def test_the_same_job_gives_the_same_bytes(tmp_path):
    files = []
    for name in ("one", "two"):
        done = baywright("sheets", FOUR_METRES, "-o", tmp_path / name)
        assert done.returncode == 0, done.stderr.decode()
        files.append(pdf_of(tmp_path / name).read_bytes())
    assert files[0] == files[1]


def test_drawings_are_well_formed_and_can_be_drawn(prints, tmp_path):
    drawings = sorted(prints.glob("*.svg"))
    assert drawings
    for path in drawings:
        tool("xmllint", "--noout", str(path))
        image = tmp_path / (path.stem + ".png")
        tool("rsvg-convert", "--dpi-x", "50", "--dpi-y", "50", "-o", str(image), str(path))
        pixels = pymupdf.Pixmap(str(image))
        assert pixels.width == pytest.approx(297 / 25.4 * 50, abs=2)
        assert len(set(pixels.samples)) > 10, "more than a blank sheet"


def test_drawings_are_in_millimetres(prints):
    for path in prints.glob("*.svg"):
        head = path.read_text()[:400]
        assert 'width="297mm"' in head and 'viewBox="0 0 297 210"' in head


def test_other_readers_find_the_same_pages(prints):
    """Poppler, which shares no code with the reader above."""
    path = pdf_of(prints)
    told = tool("pdfinfo", str(path)).decode()
    assert int(re.search(r"Pages:\s+(\d+)", told).group(1)) == len(pymupdf.open(path))
    assert "Check on site before cutting" in tool("pdftotext", str(path), "-").decode()
