"""The forms of the ladder: what a browser sent comes in, entries or Invalid go out."""

from __future__ import annotations

from collections.abc import Mapping

from journal.domain.ladders import AnswerEntry, BorneOut, LedTo, Rung
from journal.domain.messages import Message
from journal.services.ladder_steps import StepEntry
from journal.web.forms.fields import find_id, read_choice


def read_answer(form: Mapping[str, str]) -> AnswerEntry:
    """Return what a group answers."""
    return AnswerEntry(
        rung=read_rung(form.get("rung", "")),
        question="",
        language=form.get("language", ""),
        starter=form.get("words_starter", ""),
        words=form.get("words", ""),
        sketch=form.get("sketch", ""),
        said_to_teacher="said" in form,
        student_id=find_id(form.get("who", "")),
        scribe=form.get("scribe", ""),
    )


def read_step(form: Mapping[str, str]) -> StepEntry | None:
    """Return where the group goes on to; None where it stays on the ladder."""
    if "to" not in form:
        return None
    sentence = Message("ladders.tap_one_of_the_ways")
    return StepEntry(
        led_to=read_choice(LedTo, form["to"], "words", sentence),
        prediction_starter=form.get("prediction_starter", ""),
        prediction=form.get("prediction", ""),
        trials=form.get("trials", ""),
    )


def read_rung(text: str) -> Rung:
    """Return the rung that a form was made for."""
    return read_choice(Rung, text, "words", Message("ladders.load_the_page_again"))


def read_borne_out(text: str) -> BorneOut:
    """Return whether an answer was borne out."""
    return read_choice(BorneOut, text, "borne_out", Message("ladders.tap_yes"))
