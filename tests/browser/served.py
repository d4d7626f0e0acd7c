"""The command that serves the page, in a folder of its own, and a browser that looks at it."""

import os
import re
import shutil
import subprocess
import tempfile
import unittest
from pathlib import Path

from playwright.sync_api import sync_playwright

ROOT = Path(__file__).parents[2]
CLUB = ROOT / "rules-cli" / "demo" / "club"


class Served:
    """The page of a folder, until it is ended. It can be started again."""

    def __init__(self, files):
        self.folder = Path(tempfile.mkdtemp(prefix="cellrules-page-"))
        for file in files:
            shutil.copy(file, self.folder)
        self.start()

    def start(self):
        command = [os.environ["CELLRULES"], "page", str(self.folder)]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        lines = iter(self.process.stdout.readline, "")
        found = (re.search(r"http://\S+", line) for line in lines)
        self.address = next(match.group() for match in found if match)

    def stop(self):
        self.process.terminate()
        self.process.wait()
        self.process.stdout.close()

    def read(self, name):
        return (self.folder / name).read_text(encoding="utf-8")


class InBrowser(unittest.TestCase):
    """A test with the page of a club, in a browser that may not go anywhere else."""

    width = 1200
    files = sorted(CLUB.iterdir())

    @classmethod
    def setUpClass(cls):
        cls.playwright = sync_playwright().start()
        cls.browser = cls.playwright.chromium.launch(executable_path=os.environ["CHROMIUM"])

    @classmethod
    def tearDownClass(cls):
        cls.browser.close()
        cls.playwright.stop()

    def setUp(self):
        self.served = Served(self.files)
        self.wrong = []
        self.page = self.new_page(self.width)

    def tearDown(self):
        self.page.context.close()
        self.served.stop()
        shutil.rmtree(self.served.folder)
        self.assertEqual(self.wrong, [], "what the browser complained of")

    def new_page(self, width):
        context = self.browser.new_context(viewport={"width": width, "height": 900})
        page = context.new_page()
        page.on("console", lambda said: self.note(said.text) if said.type == "error" else None)
        page.on("pageerror", lambda error: self.note(str(error)))
        return page

    def note(self, text):
        # A refused request is told in the page as well, and is none of the page's faults.
        if "the server responded with a status of 4" not in text:
            self.wrong.append(text)

    def open(self, path):
        self.page.goto(self.served.address + path)
        self.page.wait_for_load_state("networkidle")

    def settled(self):
        """Waits until everything that was asked for has come, and nothing else is asked because of it."""
        calm = "() => ['0', undefined].includes(document.querySelector('main').dataset.asking)"
        for _ in range(3):
            self.page.wait_for_timeout(30)
            self.page.wait_for_function(calm, timeout=60_000)

    def verdict(self):
        return self.page.inner_text("#said .verdict").strip()

    def tab_to(self, selector, most=400):
        """Goes on with the Tab key until what is meant has the focus, which can be seen."""
        for _ in range(most):
            self.page.keyboard.press("Tab")
            if self.page.evaluate("one => document.activeElement.matches(one)", selector):
                width = self.page.evaluate("parseFloat(getComputedStyle(document.activeElement).outlineWidth)")
                self.assertGreaterEqual(width, 2, f"the focus of {selector} cannot be seen")
                return
        self.fail(f"no key leads to {selector}")
