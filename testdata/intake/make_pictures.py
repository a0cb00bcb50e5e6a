#!/usr/bin/python3
"""Makes the small pictures in pictures/ and pictures.json, what an independent reader says of them.

Run with Pillow 9 (Debian: python3-pil) and ImageMagick's convert:
    /usr/bin/python3 testdata/intake/make_pictures.py
The drawing is our own: an upright boot-like shape that no turn or mirror maps to itself.
"""
import json, os, subprocess, tempfile
from PIL import Image, ImageDraw, ImageOps

os.chdir(os.path.join(os.path.dirname(os.path.abspath(__file__)), "pictures"))
W, H = 45, 31  # odd, so that colours shared by two pixels do not fit


def drawing(mode="RGB"):
    im = Image.new("RGB", (W, H), (250, 246, 235))
    d = ImageDraw.Draw(im)
    d.polygon([(4, 3), (16, 3), (16, 18), (36, 18), (40, 27), (4, 27)], fill=(40, 60, 120))
    d.rectangle((30, 4, 36, 9), fill=(200, 60, 40))
    return im.convert(mode)


made = {}


def note(name, dpi=0):
    im = Image.open(name)
    im.seek(0)
    form = im.format
    if form == "TIFF":  # this Pillow leaves these as they are stored
        subprocess.check_call(["convert", f"{name}[0]", "-auto-orient", os.path.join(tempfile.gettempdir(), "turned.png")])
        im = Image.open(os.path.join(tempfile.gettempdir(), "turned.png"))
    else:
        im = ImageOps.exif_transpose(im)
    if im.mode in ("I", "I;16", "I;16B"):
        im = im.point(lambda v: v / 257).convert("L")
    if im.mode in ("RGBA", "LA", "PA") or "transparency" in im.info:
        paper = Image.new("RGBA", im.size, "white")
        im = Image.alpha_composite(paper, im.convert("RGBA"))
    im = im.convert("RGB")
    w, h = im.size
    spots = [(w * x // 10, h * y // 10) for x in (1, 3, 7, 8) for y in (1, 2, 5, 7)]
    made[name] = {"wide": w, "high": h, "dpi": dpi, "form": form, "spots": [[x, y, *im.getpixel((x, y))] for x, y in spots]}


def exif(o, dpi=None):
    e = Image.Exif()
    e[0x112] = o
    if dpi:
        e[0x11A], e[0x11B], e[0x128] = dpi, dpi, 2
    return e


for o in range(1, 9):
    drawing().save(f"turn{o}.jpg", quality=95, subsampling=2, exif=exif(o))
    note(f"turn{o}.jpg")
for s in (0, 1):
    drawing().save(f"turn6_sub{s}.jpg", quality=95, subsampling=s, exif=exif(6), dpi=(150, 150))
    note(f"turn6_sub{s}.jpg", 150)
drawing("L").save("turn8_grey.jpg", quality=95, exif=exif(8, 600))
note("turn8_grey.jpg", 600)
drawing().save("passes.jpg", quality=95, progressive=True, dpi=(300, 300))
note("passes.jpg", 300)
drawing("CMYK").save("inks.jpg", quality=97)
note("inks.jpg")

drawing().save("plain.png", dpi=(300, 300))
note("plain.png", 300)
drawing("P").save("palette.png")
note("palette.png")
drawing("1").save("two.png")
note("two.png")
drawing().save("turn3.png", exif=exif(3))
note("turn3.png")
clear = drawing().convert("RGBA")
clear.putalpha(Image.linear_gradient("L").resize((W, H)))
clear.save("clear.png")
note("clear.png")
subprocess.check_call(["convert", "plain.png", "-depth", "16", "-define", "png:bit-depth=16", "-interlace", "PNG", "deep.png"])
note("deep.png", 300)
drawing().save("moving.png", save_all=True, append_images=[drawing().rotate(180)])
note("moving.png")

for o in (3, 5, 6, 7):
    drawing().save(f"turn{o}.tif", compression="tiff_lzw", tiffinfo={0x112: o}, dpi=(200, 200))
    note(f"turn{o}.tif", 200)
for name, mode, how in [("plain", "RGB", None), ("grey", "L", "packbits"), ("deflate", "RGB", "tiff_adobe_deflate"),
                        ("fax", "1", "group4"), ("fax3", "1", "group3"), ("inks", "CMYK", "tiff_lzw"), ("palette", "P", None), ("clear", "RGBA", "tiff_lzw")]:
    (clear if mode == "RGBA" else drawing(mode)).save(f"{name}.tif", compression=how, dpi=(300, 300))
    note(f"{name}.tif", 300)
for end in ("LSB", "MSB"):
    subprocess.check_call(["convert", "plain.png", "-colorspace", "Gray", "-depth", "16", "-endian", end, "-compress", "Zip", f"deep{end}.tif"])
    note(f"deep{end}.tif", 300)
for pol in ("white", "black"):
    subprocess.check_call(["convert", "fax.tif", "-define", f"quantum:polarity=min-is-{pol}", "-compress", "Group4", f"fax_{pol}.tif"])
    note(f"fax_{pol}.tif", 300)
subprocess.check_call(["convert", "plain.png", "-define", "tiff:tile-geometry=16x16", "-compress", "LZW", "tiles.tif"])
note("tiles.tif", 300)
drawing().save("pages.tif", save_all=True, append_images=[drawing("L"), drawing("1")])
note("pages.tif")
drawing().save("centimetres.tif", resolution_unit=3, x_resolution=118.11, y_resolution=118.11)
note("centimetres.tif", 300)

for mode in ("1", "L", "P", "RGB"):
    drawing(mode).save(f"{mode.lower()}.bmp", dpi=(300, 300))
    note(f"{mode.lower()}.bmp", 300)
subprocess.check_call(["convert", "plain.png", "-alpha", "on", "BMP3:alpha.bmp"])
made["alpha.bmp"] = dict(made["plain.png"])

drawing().save("lossy.webp", quality=95)
note("lossy.webp")
drawing().save("lossless.webp", lossless=True)
note("lossless.webp")
drawing().save("turn6.webp", lossless=True, exif=exif(6))
note("turn6.webp")
clear.save("clear.webp", quality=95)
note("clear.webp")

# Read by nobody here: what is refused, and how it is worded, is in the tests.
drawing().save("moving.webp", save_all=True, append_images=[drawing().rotate(180)], duration=100)
drawing().save("jpeg.tif", compression="jpeg")
drawing("RGB").convert("YCbCr").save("ycbcr.tif")
drawing("F").save("fractions.tif")
subprocess.check_call(["convert", "plain.png", "-interlace", "plane", "-compress", "None", "planes.tif"])
subprocess.check_call(["convert", "plain.png", "TIFF64:big.tif"])
subprocess.check_call(["convert", "plain.png", "-colorspace", "Gray", "-depth", "4", "-compress", "None", "four.tif"])

with open("../pictures.json", "w") as f:
    f.write("{\n" + ",\n".join(f"{json.dumps(k)}: {json.dumps(v)}" for k, v in sorted(made.items())) + "\n}\n")
