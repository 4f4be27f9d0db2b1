"""A learner by keyboard: says who it is, guesses, answers, closes the browser, and finds everything again."""

from on_screen import place
from playwright.sync_api import expect

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
LESSON = "02-how-hot-at-the-tap"


def answers(page):
    return page.locator(f"{SHOWN} input[placeholder='your answer']")


def said(page, words: str) -> None:
    page.locator(f"{SHOWN} div[role=status]", has_text=words).first.wait_for()


def test_answers_and_guess_come_back_after_the_browser_was_closed(browser, page, opened):
    opened(LESSON)
    page.locator(f"{SHOWN} input[placeholder=name]").first.fill("Mira <i>(invented)</i>")
    page.locator(f"{SHOWN} input[placeholder=seat]").first.fill("3")
    page.keyboard.press("Enter")
    page.get_by_text("Answering: Mira <i>(invented)</i>, seat 3.").first.wait_for()

    page.get_by_role("button", name="Keep my guess").focus()
    page.keyboard.press("Enter")
    said(page, "Your guess: 30 °C")

    answers(page).nth(0).fill("plenty")
    page.keyboard.press("Enter")
    said(page, "plenty")
    answers(page).nth(0).fill("4711")
    page.keyboard.press("Enter")
    said(page, "Not right: 4711 °C")
    answers(page).nth(1).fill("1.2")  # typed, not given
    page.wait_for_timeout(1000)

    again = browser.new_page()
    again.goto(page.url)
    page.close()
    again.wait_for_selector(f"{SHOWN} h1:has-text('02')")
    again.get_by_text("Answering: Mira").first.wait_for()
    said(again, "Your guess: 30 °C")
    said(again, "Not right: 4711 °C")
    expect(answers(again).nth(0)).to_have_value("4711")
    expect(answers(again).nth(1)).to_have_value("1.2")
    assert again.locator(f"{SHOWN} i", has_text="(invented)").count() == 0, "markup in a name came through"
    again.get_by_role("button", name="Somebody else").first.click()
    again.locator(f"{SHOWN} input[placeholder=name]").first.wait_for()
    again.close()


def test_how_sure_is_asked_beside_its_buttons(lesson):
    """On a laptop in one row with them and with the button that keeps the guess; on a phone right above them."""
    page = lesson()
    for width in (1366, 400):
        page.set_viewport_size({"width": width, "height": 768})
        asked, first, keep = (
            place(page.locator(f"{SHOWN} {one}:visible"))
            for one in (
                "span:text-is('How sure are you?')",
                "button:has-text('just guessing')",
                "button:text('Keep my guess')",
            )
        )
        middle = asked["y"] + asked["height"] / 2
        if width == 1366:
            assert first["y"] < middle < first["y"] + first["height"] and keep["y"] == first["y"]
            assert 0 <= first["x"] - (asked["x"] + asked["width"]) < 20
        else:
            assert 0 <= first["y"] - (asked["y"] + asked["height"]) < 20 and abs(first["x"] - asked["x"]) < 5
