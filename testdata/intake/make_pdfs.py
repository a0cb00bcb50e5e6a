#!/usr/bin/python3
"""Makes the small PDFs in pdf/ and pdf.json, what independent readers say of the pictures in them.

Run with Pillow 9, img2pdf, qpdf and poppler-utils (pdfimages, pdftoppm):
    /usr/bin/python3 testdata/intake/make_pdfs.py
"""
import base64, json, os, subprocess, tempfile, zlib
from PIL import Image, ImageDraw

os.chdir(os.path.join(os.path.dirname(os.path.abspath(__file__)), "pdf"))
tmp = tempfile.mkdtemp()
W, H = 96, 70


def drawing(mode="RGB"):
    im = Image.new("RGB", (W, H), (250, 246, 235))
    d = ImageDraw.Draw(im)
    d.polygon([(8, 6), (32, 6), (32, 40), (76, 40), (84, 62), (8, 62)], fill=(40, 60, 120))
    d.rectangle((60, 8, 76, 20), fill=(200, 60, 40))
    if mode == "1":
        return im.convert("L").point(lambda v: 255 * (v > 160)).convert("1")
    if mode == "P":
        return im.convert("P", palette=Image.ADAPTIVE, colors=3)
    return im.convert(mode)


def run(*args):
    subprocess.check_call(args, stderr=subprocess.DEVNULL)


def saved(name, mode="RGB", **how):
    path = os.path.join(tmp, name)
    drawing(mode).save(path, **how)
    return path


def pdf(path, objects, binary=()):
    """Writes numbered objects with a table, by hand."""
    out = b"%PDF-1.4\n%\xe2\xe3\xcf\xd3\n"
    at = []
    for i, o in enumerate(objects, 1):
        at.append(len(out))
        out += b"%d 0 obj\n" % i + o + b"\nendobj\n"
    start = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(at) + 1)
    out += b"".join(b"%010d 00000 n \n" % a for a in at)
    out += b"trailer\n<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n" % (len(at) + 1, start)
    open(path, "wb").write(out)


def stream(d, data):
    return b"<<" + d + b"/Length %d>>stream\n" % len(data) + data + b"\nendstream"


def pages(path, image, draws, resources=b""):
    """A page for each (matrix, rotate, width, height): one image, drawn by a matrix."""
    objects = [b"<</Type/Catalog/Pages 2 0 R>>", b"", image]
    kids = []
    for matrix, rotate, w, h in draws:
        objects.append(stream(b"", b"q %s cm /Im0 Do Q" % matrix))
        objects.append(b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 %s %s]/Rotate %d/Contents %d 0 R/Resources<</XObject<</Im0 3 0 R>>%s>>>>"
                       % (b"%g" % w, b"%g" % h, rotate, len(objects), resources))
        kids.append(b"%d 0 R" % len(objects))
    objects[1] = b"<</Type/Pages/Kids[" + b" ".join(kids) + b"]/Count %d>>" % len(kids)
    pdf(path, objects)


rgb = drawing().tobytes()
flat = stream(b"/Type/XObject/Subtype/Image/Width %d/Height %d/ColorSpace/DeviceRGB/BitsPerComponent 8/Filter/FlateDecode" % (W, H), zlib.compress(rgb, 9))
jpg = open(saved("a.jpg", quality=90, dpi=(72, 72)), "rb").read()
dct = stream(b"/Type/XObject/Subtype/Image/Width %d/Height %d/ColorSpace/DeviceRGB/BitsPerComponent 8/Filter/DCTDecode" % (W, H), jpg)
w, h = W * .72, H * .72  # points: 100 dots an inch
m = lambda *v: b"%g %g %g %g %g %g" % v
eight = [  # how the square is laid on the page: TIFF's eight orientations
    (m(w, 0, 0, h, 0, 0), 0, w, h), (m(-w, 0, 0, h, w, 0), 0, w, h), (m(-w, 0, 0, -h, w, h), 0, w, h), (m(w, 0, 0, -h, 0, h), 0, w, h),
    (m(0, -w, -h, 0, h, w), 0, h, w), (m(0, -w, h, 0, 0, w), 0, h, w), (m(0, w, h, 0, 0, 0), 0, h, w), (m(0, w, -h, 0, h, 0), 0, h, w),
]
turned = [(eight[i][0], r, *eight[i][2:]) for i in (0, 1, 5) for r in (90, 180, 270)]
pages("turns.pdf", flat, eight + turned)
pages("turns_jpeg.pdf", dct, eight + turned)

run("img2pdf", "--imgsize", "300dpix300dpi", saved("s.jpg", quality=90), saved("s.png"), saved("g.png", "L"), saved("two.png", "1"), saved("p.png", "P"),
    saved("f.tif", "1", compression="group4"), "-o", "scans.pdf")
ex = Image.Exif()
ex[0x112] = 6
run("img2pdf", "--imgsize", "150dpix150dpi", saved("e.jpg", quality=90, exif=ex), "-o", "exif.pdf")
run("img2pdf", "--imgsize", "300dpix300dpi", saved("c.jpg", "CMYK", quality=95), saved("c.tif", "CMYK"), "-o", "inks.pdf")
run("img2pdf", "--imgsize", "300dpix300dpi", saved("j.jp2"), "-o", "jpx.pdf")
run("qpdf", "--object-streams=generate", "scans.pdf", "packed.pdf")
run("qpdf", "--encrypt", "lamp", "wick", "256", "--", "scans.pdf", "locked.pdf")
run("qpdf", "--encrypt", "", "wick", "128", "--use-aes=y", "--", "scans.pdf", "owned.pdf")
run("qpdf", "--linearize", "scans.pdf", "linear.pdf")
# By hand: what the programs above do not write.
def raster(d, data):
    return stream(b"/Type/XObject/Subtype/Image/Width %d/Height %d/Filter/FlateDecode" % (W, H) + d, zlib.compress(data, 9))


def rows(mode, bits):
    im = drawing(mode)
    out = b""
    for y in range(H):
        v, n = 0, 0
        for x in range(W):
            v = v << bits | im.getpixel((x, y)) * ((1 << bits) - 1) // 255
            n += bits
        pad = -n % 8
        out += (v << pad).to_bytes((n + pad) // 8, "big")
    return out


def strip(name, mode, compression):
    """The packed pixels in a TIFF of one strip, as PDF takes them too."""
    path = saved(name, mode, compression=compression)
    tags = Image.open(path).tag_v2
    assert len(tags[273]) == 1
    return open(path, "rb").read()[tags[273][0]:][:tags[279][0]]


def packed(d, data):
    return stream(b"/Type/XObject/Subtype/Image/Width %d/Height %d" % (W, H) + d, data)


one = [eight[0]]
grey = drawing("L").tobytes()
predicted = b"".join(b"\x02" + bytes((grey[y * W + x] - (grey[(y - 1) * W + x] if y else 0)) & 255 for x in range(W)) for y in range(H))
by_hand = {
    "four": raster(b"/ColorSpace/DeviceGray/BitsPerComponent 4", rows("L", 4)),
    "mask": raster(b"/ImageMask true/BitsPerComponent 1", rows("1", 1)),
    "mask_inverted": raster(b"/ImageMask true/BitsPerComponent 1/Decode[1 0]", rows("1", 1)),
    "negative": raster(b"/ColorSpace/DeviceGray/BitsPerComponent 8/Decode[1 0]", grey),
    "predicted": raster(b"/ColorSpace/DeviceGray/BitsPerComponent 8/DecodeParms<</Predictor 12/Columns %d>>" % W, predicted),
    "deep": raster(b"/ColorSpace/DeviceGray/BitsPerComponent 16", b"".join(bytes((g, g)) for g in grey)),
    "ink": raster(b"/ColorSpace[/Separation/Black/DeviceGray<</FunctionType 2/Domain[0 1]/C0[1]/C1[0]/N 1>>]/BitsPerComponent 8", bytes(255 - g for g in grey)),
    "hex": stream(b"/Type/XObject/Subtype/Image/Width %d/Height %d/ColorSpace/DeviceGray/BitsPerComponent 8/Filter[/ASCIIHexDecode/FlateDecode]" % (W, H), zlib.compress(grey, 9).hex().encode() + b">"),
    "lzw": packed(b"/ColorSpace/DeviceRGB/BitsPerComponent 8/Filter/LZWDecode", strip("l.tif", "RGB", "tiff_lzw")),
    "runs": packed(b"/ColorSpace/DeviceGray/BitsPerComponent 8/Filter/RunLengthDecode", strip("r.tif", "L", "packbits") + b"\x80"),
    "fax3": packed(b"/ColorSpace/DeviceGray/BitsPerComponent 1/Filter/CCITTFaxDecode/DecodeParms<</Columns %d/K 0/BlackIs1 true>>" % W, strip("3.tif", "1", "group3")),
    "ascii85": packed(b"/ColorSpace/DeviceGray/BitsPerComponent 8/Filter[/ASCII85Decode/FlateDecode]", base64.a85encode(zlib.compress(grey, 9)) + b"~>"),
    "jpeg_negative": dct.replace(b"/DeviceRGB", b"/DeviceRGB/Decode[1 0 1 0 1 0]"),
}
for name, image in by_hand.items():
    pages(f"{name}.pdf", image, one)
form = stream(b"/Type/XObject/Subtype/Form/BBox[0 0 1 1]/Matrix[%s]/Resources<</XObject<</Im0 3 0 R>>>>" % m(w, 0, 0, h, 0, 0), b"/Im0 Do")
content = b"BT (a \\) string) Tj ET q 1 0 0 1 0 0 cm BI /W 1 /H 1 /BPC 8 /CS /G ID x EI Q /Fm0 Do"
pdf("form.pdf", [b"<</Type/Catalog/Pages 2 0 R>>", b"<</Type/Pages/Kids[6 0 R]/Count 1/MediaBox[0 0 %g %g]/Resources<</XObject<</Fm0 4 0 R>>>>>>" % (w, h),
                 flat, form, stream(b"", content), b"<</Type/Page/Parent 2 0 R/Contents 5 0 R>>"])
pdf("drawn.pdf", [b"<</Type/Catalog/Pages 2 0 R>>", b"<</Type/Pages/Kids[4 0 R]/Count 1>>", stream(b"", b"10 10 m 90 90 l S"),
                  b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 100 100]/Contents 3 0 R>>"])
pages("jbig2.pdf", flat.replace(b"FlateDecode", b"JBIG2Decode"), one)
pages("fax_ppi.pdf", flat, [(m(w, 0, 0, h * 2, 0, 0), 0, w, h * 2)])

made = {}
for name in sorted(os.listdir(".")):
    if name in ("locked.pdf", "drawn.pdf", "jbig2.pdf", "jpx.pdf"):
        continue
    listing = subprocess.check_output(["pdfimages", "-list", name]).decode().splitlines()[2:]
    found = []
    for line in listing:
        part = line.split()
        page, across, down = int(part[0]), float(part[-4]), float(part[-3])
        if int(part[3]) < 32:
            continue
        # As the page is seen: at the resolution of the picture itself.
        run("pdftoppm", "-f", str(page), "-l", str(page), "-r", str(max(across, down)), "-png", "-aa", "no", name, os.path.join(tmp, "page"))
        png = [f for f in os.listdir(tmp) if f.startswith("page") and f.endswith(".png")][0]
        im = Image.open(os.path.join(tmp, png)).convert("RGB")
        pw, ph = (W, H) if abs(im.size[0] - W) < 4 or name == "fax_ppi.pdf" else (H, W)
        # Places in the middle of evenly coloured ground: a page may be shown a pixel aside.
        small = im.resize((pw, ph), Image.NEAREST)
        even = lambda x, y: all(hi - lo < 30 for lo, hi in small.crop((x - 3, y - 3, x + 4, y + 4)).getextrema())
        spots = [(x, y) for x in range(4, pw - 4, 9) for y in range(4, ph - 4, 9) if even(x, y)]
        spots = spots[:: len(spots) // 24]
        found.append({"page": page, "wide": pw, "high": ph, "across": across, "down": down,
                      "spots": [[x, y, *small.getpixel((x, y))] for x, y in spots]})
        os.remove(os.path.join(tmp, png))
    made[name] = found
with open("../pdf.json", "w") as f:
    f.write("{\n" + ",\n".join(f"{json.dumps(k)}: {json.dumps(v)}" for k, v in sorted(made.items())) + "\n}\n")
