"""How the pages look: to a checker of accessibility, on a phone, on paper; and pictures of them."""

import io
import os
import re
import unicodedata
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from PIL import Image
from pypdf import PdfReader

from served import InBrowser

SCREENS = Path(__file__).parent / "screens"
GRAVE = {"serious", "critical"}
KEPT = {"report", "form", "choose", "range"}
# Each page, with what is pressed on it.
PAGES = {
    "list": ("", None),
    "form": ("plan/helmet-lamp.yaml", None),
    "choose": ("plan/helmet-lamp.yaml", "choose"),
    "range": ("plan/helmet-lamp.yaml", "range-draw"),
    "bench": ("bench/bench.yaml", None),
    "sorted": ("sorted/bench.yaml", None),
    "report": ("report/helmet-lamp.yaml", None),
}


class Looked(InBrowser):
    def show(self, name):
        path, pressed = PAGES[name]
        self.open(path)
        if pressed:
            self.page.click(f"[data-do={pressed}]")
            self.page.wait_for_selector("#more h3", timeout=60_000)
        self.settled()

    def look(self, name):
        self.show(name)
        found = Axe().run(self.page).response["violations"]
        grave = [
            (one["id"], [node["html"][:120] for node in one["nodes"][:3]])
            for one in found
            if one["impact"] in GRAVE
        ]
        self.assertEqual(grave, [], name)
        wide = self.page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        self.assertLessEqual(wide, 0, f"{name} goes over the edge")
        self.keep(name)

    def test_every_page(self):
        for width in [1200, 360]:
            self.width = width
            self.page.set_viewport_size({"width": width, "height": 900})
            for name in PAGES:
                with self.subTest(page=name, width=width):
                    self.look(name)

    def test_opened_parts_and_the_dark(self):
        self.page.emulate_media(color_scheme="dark")
        self.show("form")
        for number in [0, 4]:
            self.page.click(f"#parts summary >> nth={number}")
        self.settled()
        self.assertGreater(self.page.locator("#parts [data-places]").count(), 40)
        found = Axe().run(self.page).response["violations"]
        grave = [(one["id"], one["nodes"][0]["html"][:160]) for one in found if one["impact"] in GRAVE]
        self.assertEqual(grave, [])

    def keep(self, name):
        """Keeps a picture of few colours, of the top of the page."""
        if os.environ.get("KEEP_SCREENS") != "1" or name not in KEPT:
            return
        SCREENS.mkdir(exist_ok=True)
        picture = Image.open(io.BytesIO(self.page.screenshot())).convert("RGB")
        path = SCREENS / f"{name}-{self.width}.png"
        picture.quantize(colors=64, dither=Image.Dither.NONE).save(path, optimize=True)
        self.assertLess(path.stat().st_size, 80_000, path.name)


class OnPaper(InBrowser):
    def test_a_report_is_printed_without_a_cut_row(self):
        self.open("report/helmet-lamp.yaml")
        rows = self.page.eval_on_selector_all(
            "tbody tr", "all => all.map(row => [...row.children].map(cell => cell.textContent))"
        )
        for paper in ["A4", "Letter"]:
            pdf = PdfReader(io.BytesIO(self.page.pdf(format=paper)))
            pages = [squeezed(page.extract_text()) for page in pdf.pages]
            print(f"\n  on {paper}: {len(pages)} pages")
            self.assertLess(len(pages), 25)
            for row in rows:
                cells = [squeezed(cell) for cell in row]
                whole = any(all(cell in page for cell in cells) for page in pages)
                self.assertTrue(whole, f"cut on {paper}: {row}")


def squeezed(text):
    """Without what lines and ligatures do to a text."""
    return re.sub(r"[\s\u00ad\u2010-]+", "", unicodedata.normalize("NFKC", text))
