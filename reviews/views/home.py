"""Not drawn yet."""

from django.http import HttpRequest, HttpResponse


def show_home(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError


def sign_in(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError


def sign_out(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError


def edit_you(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError


def change_password(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError


def set_password(request: HttpRequest, uidb64: str, token: str) -> HttpResponse:
    raise NotImplementedError


def switch_lamp(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError


def demo_sign_in(request: HttpRequest, person_id: int) -> HttpResponse:
    raise NotImplementedError


def show_specimen(request: HttpRequest) -> HttpResponse:
    raise NotImplementedError
