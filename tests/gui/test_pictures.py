"""The pictures can be taken anew."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtGui import QImage

from tests.gui.take_pictures import GREY, SCENES, SHELF_SCENES, take_all


@pytest.mark.pictures
def test_every_scene_gives_a_picture_with_something_on_it(tmp_path: Path) -> None:
    files = take_all(tmp_path)
    assert len(files) == len(SCENES) + len(SHELF_SCENES) + len(GREY)
    for file in files:
        image = QImage(str(file))
        assert (image.width(), image.height()) in {(1366, 768), (1366, 690)}
        colours = {image.pixel(x, y) for x in range(0, image.width(), 5) for y in range(0, image.height(), 5)}
        assert len(colours) > 10, file.name
