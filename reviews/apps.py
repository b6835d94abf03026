from django.apps import AppConfig
from django.core import checks


class ReviewsConfig(AppConfig):
    name = "reviews"
    verbose_name = "Muntin"

    def ready(self) -> None:
        from reviews.sqlite_fault import warn_of_the_fault

        checks.register(warn_of_the_fault, checks.Tags.database)
