"""The people of a lesson: each method is a sentence, said by tapping."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

from playwright.sync_api import Browser, Page, expect

from tests.browser.rooms import PASSWORD, SIGN_IN_NAME

#: A second tap on the panel within this time is taken for a finger that bounced.
BOUNCE_MS = 750
#: A print has a low priority, so on a busy machine it takes its time.
PRINTED_MS = 180_000


class Teacher:
    """Ms Reed at her desk, with a mouse."""

    def __init__(self, browser: Browser, address: str) -> None:
        """Take a seat."""
        context = browser.new_context(
            viewport={"width": 1366, "height": 768}, accept_downloads=True
        )
        self.page: Page = context.new_page()
        self.address = address
        self.told: list[str] = []
        self.page.on("console", lambda line: self._hear(line.type, line.text))
        self.class_href = ""

    def signs_in(self) -> None:
        """Sign in with name and password."""
        self.page.goto(f"{self.address}/teacher")
        self.page.fill("[name=sign_in_name]", SIGN_IN_NAME)
        self.page.fill("[name=password]", PASSWORD)
        self.page.click("main button[type=submit]")
        self.page.wait_for_url("**/classes*")

    def makes_a_class(self, name: str, nicknames: Sequence[str]) -> None:
        """Make a class kept for a year, and add its students by a pasted list."""
        self.page.goto(f"{self.address}/classes/new")
        self.page.fill("[name=name]", name)
        self.page.click("label.tile:has(input[value='3-5'])")
        kept_until = datetime.now(UTC).date() + timedelta(days=300)
        self.page.fill("[name=retention_date]", kept_until.isoformat())
        self.page.click("text=Make the class")
        self.page.wait_for_url(re.compile(r"/classes/[0-9a-f-]{36}$"))
        self.class_href = self.page.url
        self.page.click("text=Add students")
        self.page.fill("[name=nicknames]", "\n".join(nicknames))
        self.page.click("text=Add them")
        self.page.wait_for_url(self.class_href)

    def deals_groups(self) -> None:
        """Deal the students into groups."""
        with self.page.expect_navigation():
            self.page.click("text=Deal into groups of about 4")

    def opens_the_challenge(self, title: str) -> None:
        """Open a ready challenge for the class."""
        self.page.goto(f"{self.class_href}/challenges")
        card = self.page.locator("li", has=self.page.locator("h3", has_text=title))
        card.get_by_text("Open for this class").click()
        self.page.wait_for_url("**/challenges/**")

    def makes_a_lesson_word(self) -> str:
        """Make the word that opens the door, and write it on the board."""
        self.page.goto(self.class_href)
        self.page.click("text=Make a lesson word")
        word = self.page.locator(".the-word")
        expect(word).to_be_visible()
        return word.inner_text()

    def starts_a_session(self) -> None:
        """Start a session from where the challenge says."""
        self.page.goto(f"{self.class_href}/sessions")
        self.page.click("text=Start the session")
        self.page.wait_for_url("**/sessions/**")

    def opens_the_gate(self) -> None:
        """Tick each line of the checklist and open launching."""
        for box in self.page.locator("label.tile:has(input[name=checks])").all():
            box.click()
        self.page.click("button:has-text('Open the lane')")
        expect(self.page.get_by_text("The lane is open.").first).to_be_visible()

    def looks_at_the_overview(self) -> None:
        """Open the overview and leave it open."""
        self.page.goto(f"{self.class_href}/overview")

    def sees(self, text: str, within_s: float = 5) -> None:
        """Read it on the overview, which moves by itself: nothing is loaded anew."""
        place = self.page.locator("#overview-now")
        expect(place).to_contain_text(text, timeout=within_s * 1000)

    def sees_first(self, group: str, within_s: float = 25) -> None:
        """Read who is to be visited next; an order shown stands for 20 s."""
        expect(self.page.locator(".go-next")).to_have_text(group, timeout=within_s * 1000)

    def says_i_am_here(self, note: str) -> None:
        """Log a visit by one tap, then write a note."""
        self.page.click(".go-do button")
        self.page.fill("#kept [name=note]", note)
        self.page.click("text=Keep the note")
        expect(self.page.locator("#kept")).to_contain_text("The note on")

    def prints_the_portfolio(self, group: str, folder: Path) -> bytes:
        """Print a group's portfolio from the overview, in one tap, and open it when it is there."""
        self.page.get_by_label(f"Print the portfolio of {group}").click()
        expect(self.page.locator("#print h2")).to_contain_text(f"The portfolio of {group} is")
        # The page offers it by itself.
        opens = self.page.get_by_role("link", name="Open the portfolio")
        expect(opens).to_be_visible(timeout=PRINTED_MS)
        answer = self.page.request.get(f"{self.address}{opens.get_attribute('href')}")
        assert (answer.ok, answer.headers["content-type"]) == (True, "application/pdf")
        path = folder / f"{group}.pdf"
        path.write_bytes(answer.body())
        self.page.get_by_role("link", name="Class overview").click()
        return answer.body()

    def _hear(self, kind: str, text: str) -> None:
        if kind in {"error", "warning"}:
            self.told.append(text)


class Student:
    """A group with its touch screen, 1024 by 768."""

    def __init__(self, browser: Browser, address: str) -> None:
        """Take the tablet."""
        context = browser.new_context(
            viewport={"width": 1024, "height": 768},
            has_touch=True,
            is_mobile=True,
            device_scale_factor=1,
        )
        self.page: Page = context.new_page()
        self.address = address
        self.group_href = ""
        self.logged = 0
        self.told: list[str] = []
        self.page.on("console", lambda line: self._hear(line.type, line.text))

    def comes_in(self, word: str, group: str, nickname: str) -> None:
        """Bring the lesson word, tap group and name."""
        self.page.goto(self.address)
        self.page.fill("[name=word]", word)
        self.page.tap("main button[type=submit]")
        self.page.get_by_role("link", name=group).tap()
        self.page.get_by_role("button", name=nickname).tap()
        self.page.wait_for_url("**/journal")
        self.group_href = self.page.url.removesuffix("/journal")

    def builds_first(self) -> None:
        """Keep the first launcher as the challenge starts it, then everybody's own dart."""
        self.page.goto(f"{self.group_href}/stages/build")
        self._taps_and_goes_on("main a:has-text('Launcher')")
        self._taps_and_goes_on("button:has-text('Keep Launcher')")
        self.page.goto(f"{self.group_href}/stages/build")
        self._taps_and_goes_on("text=Everybody’s own part is built")

    def goes_to_test(self) -> None:
        """Open the page on which trials are logged."""
        self.page.goto(f"{self.group_href}/trials/new")

    def reads_that_launching_waits(self) -> None:
        """Read why nobody may launch yet."""
        expect(self.page.locator(".hold")).to_be_visible()

    def sees_the_panel_open_by_itself(self) -> None:
        """Wait for the teacher; the page goes on by itself."""
        expect(self.page.locator("#place")).to_be_visible(timeout=20_000)

    def launches(self, nickname: str, right_mm: float, up_mm: float) -> None:
        """Log a trial in two taps: who, and where on the panel."""
        self.page.wait_for_timeout(BOUNCE_MS)
        self.page.tap(f"label.tile:has(input[data-name='{nickname}'])")
        place = self.page.locator("#place")
        width = float(place.get_attribute("data-width") or 0)
        scale = float(place.get_attribute("data-scale") or 0)
        aim_x = float(place.get_attribute("data-aim-x") or 0)
        aim_y = float(place.get_attribute("data-aim-y") or 0)
        box = place.bounding_box()
        assert box is not None
        shown = box["width"] / width
        self.page.touchscreen.tap(
            box["x"] + (aim_x + right_mm * scale) * shown,
            box["y"] + (aim_y - up_mm * scale) * shown,
        )
        self.logged += 1
        told = f"Trial {self.logged} is in"
        expect(self.page.locator("#newest")).to_contain_text(told)

    def borrows_for(self, nickname: str, owner: str) -> None:
        """Take a group mate's dart instead of the own one."""
        self.page.tap(f"label.tile:has(input[data-name='{nickname}'])")
        own = self.page.locator(f"li:has(input[data-name='{nickname}']) select[data-own]")
        option = own.locator("option", has_text=owner).first
        own.select_option(value=option.get_attribute("value"))

    def makes_the_next_launcher(self, factor: str, value: str, why: str, guess: str) -> None:
        """Change one factor, say why and what will happen."""
        self.page.goto(f"{self.group_href}/revisions/new")
        self.page.tap(f"label.pick:has-text('{factor}')")
        self.page.locator("fieldset.to:visible input[inputmode=decimal]").fill(value)
        self.page.fill("textarea[name=reason]", why)
        self.page.fill("textarea[name=prediction]", guess)
        self._taps_and_goes_on("button:has-text('Keep Launcher')")

    def says_we_are_stuck(self) -> None:
        """Tap the quiet call for help."""
        self.page.goto(f"{self.group_href}/journal")
        self._taps_and_goes_on("button:has-text('We are stuck')")

    def answers(self, words: str) -> str:
        """Answer the question of the rung in own words; return the question."""
        question = self.page.locator("h1.question").inner_text()
        box = self.page.locator("textarea[name=words]")
        if not box.is_visible():
            self.page.get_by_text("Own words").tap()
        box.fill(words)
        self.page.tap("button:has-text('Keep our answer')")
        expect(self.page.locator("h1.question")).not_to_have_text(question)
        return question

    def reads_the_finding(self) -> str:
        """Read what the journal says of the trials so far."""
        self.page.goto(f"{self.group_href}/journal")
        return self.page.locator(".finding").inner_text()

    def _taps_and_goes_on(self, selector: str) -> None:
        """Tap what leads to another page, and wait until it is there."""
        with self.page.expect_navigation():
            self.page.tap(selector)

    def _hear(self, kind: str, text: str) -> None:
        if kind in {"error", "warning"}:
            self.told.append(text)
