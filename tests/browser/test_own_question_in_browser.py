"""An instructor makes a question on the page of own material, and a learner finds and answers it on the lesson's page."""

from on_screen import place

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
FORM = f"{SHOWN} .hot-water-form"
ASKED = "Which tap waits longer {on} a <cold> morning?"


def go_to(page, path: str, until: str) -> None:
    page.evaluate("path => { jupyterapp.commands.execute('docmanager:open', { path }); }", path)
    page.wait_for_selector(f"{SHOWN} {until}")


def test_a_choice_is_made_on_one_page_and_answered_on_another(page, live, faults, not_kept):
    not_kept("02-how-hot-at-the-tap")
    go_to(page, "instructor/own-material.ipynb", ".hot-water-form select")
    page.locator(f"{SHOWN} input[type=number]").last.wait_for(state="attached")
    assert faults(page, f"{SHOWN} .hot-water-runs") == []  # of all parts of the page

    def type_in(kind: str, *texts: str) -> None:
        for number, text in enumerate(texts):
            page.locator(f"{FORM} {kind}").nth(number).fill(text)

    def next_is(heading: str) -> None:
        page.get_by_role("button", name="Next", exact=True).click()
        page.locator(FORM, has_text=heading).wait_for()

    page.get_by_role("button", name="Next", exact=True).click()
    page.get_by_text("No lesson is chosen yet").wait_for()
    page.locator(f"{FORM} select").select_option(label="02 · How hot at the tap")
    next_is("Step 2 of 7")
    page.get_by_text("a choice among options").click()
    assert faults(page, ".hot-water-form") == []
    next_is("Step 3 of 7")
    type_in("textarea", ASKED)
    next_is("Step 4 of 7")
    type_in("input", "The far one", "The near one", "Neither of them")
    next_is("Step 5 of 7")
    type_in("textarea", "Less water stands before it.", "One pipe is longer.")
    type_in("input", "How long is each pipe?", "What stands in the longer one?")
    heading, focused = page.locator(f"{FORM} b", has_text="Step 5"), page.locator(f"{FORM} textarea").first
    assert place(heading)["y"] < place(focused)["y"]
    assert faults(page, ".hot-water-form") == []
    next_is("Step 6 of 7")
    type_in("textarea", "Look at the lengths.", "The far one: more cold water stands before it.")
    next_is("Step 7 of 7")
    page.locator(f"{FORM} label", has_text="The near one").click()
    page.get_by_role("button", name="Answer", exact=True).click()
    page.locator(f"{FORM} div[role=status]", has_text="Less water stands before it.").wait_for()
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_text("● Saved. Your question stands as 02 · ").wait_for()
    page.locator(SHOWN, has_text="Take away").wait_for()

    go_to(page, "02-how-hot-at-the-tap.ipynb", "h1:has-text('02')")
    live()
    page.locator(SHOWN).get_by_text(ASKED).wait_for(state="attached")
    page.get_by_role("button", name="More questions").first.click()
    box = page.locator(f"{SHOWN} .widget-vbox", has_text=ASKED).last
    box.locator("label", has_text="The far one").click()
    box.get_by_role("button", name="Answer", exact=True).click()
    box.get_by_text("The far one: more cold water stands before it.").wait_for()
