"""JPEGs by Pillow, grey and coloured, plain and progressive, in every orientation, beside the pixels that Pillow shows."""

import json
import sys
from pathlib import Path

import numpy as np
from PIL import Image, ImageOps

folder = Path(sys.argv[1])
v, u = np.mgrid[0:90, 0:130]
scene = np.stack([u * 255 / 130, v * 255 / 90, 128 + 90 * np.sin(u / 20) * np.cos(v / 15)], axis=2)
picture = Image.fromarray(scene.astype(np.uint8))
facts = []


def add(name, image, **options):
    image.save(folder / name, quality=92, **options)
    shown = ImageOps.exif_transpose(Image.open(folder / name)).convert("RGB")
    (folder / f"{name}.raw").write_bytes(shown.tobytes())
    facts.append({"file": name, "raw": f"{name}.raw", "width": shown.width, "height": shown.height})


for orientation in range(1, 9):
    exif = Image.Exif()
    exif[0x0112] = orientation
    add(f"turned-{orientation}.jpg", picture, exif=exif)
add("plain.jpg", picture)
add("grey.jpg", picture.convert("L"))
add("progressive.jpg", picture, progressive=True)
add("full.jpg", picture, subsampling=0)
json.dump(facts, sys.stdout)
