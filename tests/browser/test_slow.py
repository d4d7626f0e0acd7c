"""What a person does while the page still waits for an answer is kept: a word half typed, the focus, an opened part."""

from served import InBrowser

# Every answer comes late, by half a second where nothing else is said: later than the next key.
LATE = """
const now = window.fetch;
window.lateness = [];
window.fetch = async (...all) => {
  const late = lateness.shift() ?? 500;
  const answer = await now(...all);
  await new Promise((come) => setTimeout(come, late));
  return answer;
};
"""


class WhileItWaits(InBrowser):
    def setUp(self):
        super().setUp()
        self.page.add_init_script(LATE)
        self.open("plan/relay-torch.yaml")
        self.settled()

    def focused(self):
        return self.page.evaluate("document.activeElement.id")

    def test_a_choice_is_looked_for_by_its_letters(self):
        self.tab_to("#top-light-of")
        self.page.evaluate("window.before = document.activeElement")
        # The first letter alone chooses the marshal's torch, after which the fields around it are drawn anew.
        self.page.keyboard.type("m")
        self.settled()
        self.assertEqual(self.page.input_value("#top-light-of"), "marshal-torch")
        self.assertIn("1S1P", self.page.get_attribute("#top-arrangement", "placeholder"))
        # The browser goes on with the letters only in the very same field.
        self.assertTrue(self.page.evaluate("document.activeElement === window.before"))

    def test_the_next_field_is_filled_in(self):
        self.page.select_option("#top-light-of", "marshal-torch")
        self.tab_to("#top-arrangement")
        self.page.keyboard.type("1S1P", delay=300)
        self.assertEqual(self.page.input_value("#top-arrangement"), "1S1P")
        self.assertEqual(self.focused(), "top-arrangement")
        self.assertIn("1S1P", self.page.get_attribute("#top-arrangement", "placeholder"), "what the light says")
        self.page.keyboard.press("Tab")
        self.settled()
        self.assertIn("arrangement: 1S1P", self.saved())

    def test_an_opened_part_stays_open(self):
        self.page.click("summary >> text=The light")
        draw = "[data-places='light.draw']"
        self.page.wait_for_selector(draw)
        self.assertEqual(self.page.get_attribute(draw, "placeholder"), "don't know")
        self.page.select_option("#top-light-of", "marshal-torch")
        self.page.focus(draw)
        self.page.keyboard.type("2.5 W", delay=200)
        self.assertEqual(self.page.input_value(draw), "2.5 W")
        self.page.wait_for_selector(f"{draw}[placeholder$='(bench)']")
        self.assertEqual(self.page.input_value(draw), "2.5 W")
        self.page.keyboard.press("Tab")
        self.settled()
        self.assertIn("draw: 2.5 W", self.saved())

    def test_of_two_choices_the_later_is_shown(self):
        # What is asked because of the first comes after what is asked because of the second.
        self.page.evaluate("lateness.push(2000, 2000, 2000)")
        self.page.select_option("#top-light-of", "marshal-torch")
        self.page.select_option("#top-light-of", "helmet-lamp")
        self.page.focus("#top-title")
        self.settled()
        self.assertEqual(self.page.input_value("#top-light-of"), "helmet-lamp")
        self.assertIn("2S1P", self.page.get_attribute("#top-arrangement", "placeholder"))

    def saved(self):
        self.page.click("[data-do=save]")
        self.settled()
        return self.served.read("relay-torch.yaml")
