"""What is done beside a plan: a range with its slider, a set of cells, a spreadsheet, a correction."""

from served import CLUB, InBrowser

SHEET = """id;in;kind;pack;found.voltage [V];look;past
X1;;NR-22;P-drill-3;3,60;sound;uneventful
X2;;NR-22;P-drill-3;3,61;sound;uneventful
"""


class OfAPlan(InBrowser):
    def setUp(self):
        super().setUp()
        self.open("plan/helmet-lamp.yaml")

    def do(self, what):
        self.page.click(f"[data-do={what}]")
        self.page.wait_for_selector("#more h3", timeout=60_000)
        self.settled()

    def test_a_slider_shows_how_far_the_draw_can_go(self):
        self.do("range-draw")
        self.assertIn("Values", self.page.inner_text("#more table"))
        before = self.page.input_value("#slider")
        turn = self.page.get_attribute("#plan", "data-turn")
        self.page.focus("#slider")
        for _ in range(5):
            self.page.keyboard.press("ArrowLeft")
        # It is written when it has rested for 400 ms.
        self.page.wait_for_timeout(600)
        self.page.wait_for_function("turn => document.querySelector('#plan').dataset.turn !== turn", arg=turn)
        self.settled()
        after = self.page.input_value("#slider")
        self.assertLess(float(after), float(before))
        # It is in the plan, and the strip goes from the same end to the same end.
        self.page.click("summary >> text=The light")
        self.settled()
        self.assertEqual(self.page.input_value("[data-places='light.draw']"), f"{after} W")
        self.assertTrue(self.page.evaluate("document.activeElement !== document.body"))

    def test_a_set_is_chosen(self):
        self.do("choose")
        first = self.page.inner_text("#more tbody tr >> nth=0 >> th")
        self.page.click("[data-do=take] >> nth=0")
        self.settled()
        ticked = self.page.eval_on_selector_all(
            "[data-list=cells] input:checked", "all => all.map(one => one.value)"
        )
        self.assertEqual(sorted(ticked), sorted(first.split()))

    def test_a_cell_is_exchanged_and_what_would_change_it_is_told(self):
        self.do("tried")
        self.assertIn("What would change it", self.page.inner_text("#more"))
        against = self.page.inner_text("#said")
        self.page.uncheck("input[value=K7]")
        self.page.check("input[value=K5]")
        self.settled()
        self.assertNotEqual(self.page.inner_text("#said"), against)
        self.page.click("[data-do=save]")
        self.settled()
        said = self.served.read("helmet-lamp.yaml")
        expected = (CLUB / "helmet-lamp.yaml").read_text(encoding="utf-8").replace("[K4, K7]", "[K4, K5]")
        self.assertEqual(said, expected, "comments and order are kept")

    def test_a_name_stays_a_name(self):
        self.page.select_option("#top-light-of", "start-hut")
        self.settled()
        self.page.click("[data-do=save]")
        self.settled()
        expected = (CLUB / "helmet-lamp.yaml").read_text(encoding="utf-8")
        expected = expected.replace("light: helmet-lamp", "light: start-hut")
        self.assertEqual(self.served.read("helmet-lamp.yaml"), expected)

    def test_what_somebody_else_changed_is_kept(self):
        theirs = self.served.read("helmet-lamp.yaml").replace("90 min", "60 min")
        self.page.fill("#top-title", "Mine")
        self.page.keyboard.press("Tab")
        self.settled()
        (self.served.folder / "helmet-lamp.yaml").write_text(theirs, encoding="utf-8")
        self.page.click("[data-do=save]")
        self.settled()
        self.assertIn("changed by somebody else", self.page.inner_text("#saved"))
        self.assertEqual(self.served.read("helmet-lamp.yaml"), theirs)
        self.page.click("[data-do=save-as]")
        self.page.wait_for_url("**/plan/helmet-lamp-2.yaml")
        self.assertIn("title: Mine", self.served.read("helmet-lamp-2.yaml"))


class OfABench(InBrowser):
    def setUp(self):
        super().setUp()
        self.open("bench/bench.yaml")

    def test_a_spreadsheet_is_taken_in(self):
        before = self.served.read("cells.csv")
        sheet = {"name": "more.csv", "mimeType": "text/csv", "buffer": SHEET.encode()}
        self.page.set_input_files("#sheet", sheet)
        self.page.wait_for_selector("#told >> text=2 cells were added to cells.csv")
        after = self.served.read("cells.csv")
        self.assertTrue(after.startswith(before))
        self.assertIn("X1;;NR-22;P-drill-3;3,60;sound;;;;;;uneventful;;;", after)
        self.assertEqual(self.page.locator("[data-table=cells] tbody tr").count(), 26)
        # The same cells again are none to add.
        self.page.set_input_files("#sheet", sheet)
        self.page.wait_for_selector("#told >> text=Nothing was written")
        self.assertEqual(self.served.read("cells.csv"), after)

    def test_a_spreadsheet_is_dropped(self):
        script = """text => {
            const held = new DataTransfer();
            held.items.add(new File([text], "more.csv", { type: "text/csv" }));
            return held;
        }"""
        held = self.page.evaluate_handle(script, SHEET)
        self.page.dispatch_event("#drop", "drop", {"dataTransfer": held})
        self.page.wait_for_selector("#told >> text=2 cells were added to cells.csv")

    def test_a_set_is_chosen_and_begins_a_plan(self):
        self.page.click("[data-light=marshal-torch]")
        self.page.wait_for_selector("#more [data-do=take]", timeout=60_000)
        cell = self.page.inner_text("#more tbody th >> nth=0")
        self.page.click("[data-do=take] >> nth=0")
        self.page.wait_for_url("**/plan/marshal-torch-chosen.yaml")
        self.settled()
        self.assertTrue(self.page.is_checked(f"[data-list=cells] input[value={cell}]"))
        self.assertEqual(self.page.input_value("#top-light-of"), "marshal-torch")

    def test_a_re_test_is_added(self):
        self.page.click("summary >> text=What was read of them")
        values = ["K1", "2026-11-20", "resistance.value", "64 mΩ", "", "grey"]
        fields = self.page.locator("[data-table=readings] [data-new]")
        for number, value in enumerate(values):
            fields.nth(number).fill(value)
        self.page.click("[data-table=readings] [data-do=add]")
        self.page.wait_for_selector("#told >> text=Saved in readings.csv")
        self.assertTrue(self.served.read("readings.csv").endswith("K1;2026-11-20;resistance.value;64 mΩ;;grey\n"))

    def test_a_value_is_corrected_in_its_place(self):
        before = self.served.read("cells.csv")
        self.page.fill("[aria-label='K1, found.voltage [V]']", "3,29")
        self.page.keyboard.press("Tab")
        self.page.wait_for_selector("#told >> text=Saved in cells.csv")
        self.assertEqual(self.served.read("cells.csv"), before.replace("K1;;R-26;P-old-1;3,31", "K1;;R-26;P-old-1;3,29"))
        self.page.fill("[aria-label='K1, look']", "beautiful")
        self.page.keyboard.press("Tab")
        self.page.wait_for_selector("#told >> text=Nothing was written")
        self.assertNotIn("beautiful", self.served.read("cells.csv"))
