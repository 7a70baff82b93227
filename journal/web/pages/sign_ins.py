"""The teacher's sign-in and password."""

from __future__ import annotations

from http import HTTPStatus

from flask import Blueprint, flash, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from journal.domain.errors import Invalid
from journal.services.sign_in_pages import prepare_password, prepare_sign_in
from journal.services.sign_ins import start_teacher
from journal.services.teachers import change_password, prove_teacher
from journal.web.guesses import current_guesses
from journal.web.request_work import drop_sign_in, keep_sign_in, request_work

pages = Blueprint("sign_ins", __name__)


@pages.get("/teacher")
def show_sign_in() -> str:
    """Ask a teacher for sign-in name and password."""
    return render_template("pages/sign_ins/teacher.html", page=prepare_sign_in())


@pages.post("/teacher")
def sign_in() -> Response | tuple[str, int]:
    """Sign a teacher in with a new token."""
    name = request.form.get("sign_in_name", "")
    try:
        with (
            request_work(writing=False) as work,
            current_guesses().counting(f"teacher {name.strip()}", "password", work.now()),
        ):
            teacher = prove_teacher(work, name, request.form.get("password", ""))
    except Invalid as invalid:
        page = prepare_sign_in(name, invalid.by_field())
        return render_template("pages/sign_ins/teacher.html", page=page), 422
    with request_work() as work:
        token = start_teacher(work, teacher)
    return keep_sign_in(redirect(url_for("classes.show_classes"), HTTPStatus.SEE_OTHER), token)


@pages.get("/teacher/password")
def show_password() -> str:
    """Show the form that changes the password."""
    with request_work() as work:
        page = prepare_password(work)
    return render_template("pages/sign_ins/password.html", page=page)


@pages.post("/teacher/password")
def replace_password() -> Response | tuple[str, int]:
    """Change the password and end every sign-in, this one too."""
    form = request.form
    try:
        with request_work() as work:
            change_password(
                work, form.get("present", ""), form.get("password", ""), form.get("again", "")
            )
    except Invalid as invalid:
        with request_work(writing=False) as work:
            page = prepare_password(work, invalid.by_field())
        return render_template("pages/sign_ins/password.html", page=page), 422
    response = drop_sign_in(redirect(url_for("sign_ins.show_sign_in"), HTTPStatus.SEE_OTHER))
    flash("Your password is changed. Sign in with the new one.")
    return response
