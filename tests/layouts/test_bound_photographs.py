"""A binder draws a folio anew when a photograph of its record has changed, and not else."""

from io import BytesIO

from PIL import Image

from tests.commands import TOWELS, run


def write(path, colour):
    stream = BytesIO()
    Image.new("RGB", (80, 60), colour).save(stream, "JPEG")
    path.write_bytes(stream.getvalue())


def test_a_changed_photograph_is_seen(tmp_path):
    folder = tmp_path / "specs"
    folder.mkdir()
    (folder / "x.yaml").write_text(f"{TOWELS.read_text()}\nphotographs: [{{file: a.jpg, of: a}}]\n")
    out = tmp_path / "binder.pdf"
    prints = []
    for colour in ("red", "red", "blue", None, None):
        if colour is None:
            (folder / "a.jpg").unlink(missing_ok=True)
        else:
            write(folder / "a.jpg", colour)
        done = run("bind", folder, "-o", out)
        assert done.exit_code == 0, done.stderr
        prints.append(out.read_bytes())
    assert prints[0] == prints[1]
    assert prints[1] != prints[2]
    assert prints[2] != prints[3]
    assert prints[3] == prints[4]
