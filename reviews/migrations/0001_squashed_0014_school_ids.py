"""A new site's tables, made at once in the form to which the migrations before brought them.

A site of an earlier version goes through those one by one. Each table that Django makes has every
model that leads to it worked out anew: for as many tables, most of the time of a first start.
"""

from importlib import import_module

from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.operations.base import Operation
from django.db.migrations.state import ProjectState

STEPS = (
    "0001_initial",
    "0002_mails",
    "0003_audit_and_retention",
    "0004_operations",
    "0005_small_pictures",
    "0006_passkey_mails",
    "0007_states_and_people",
    "0008_sheets_as_drawn",
    "0009_crit_day",
    "0010_after_crit",
    "0011_weather",
    "0012_files_brought_in",
    "0013_script_tokens",
    "0014_school_ids",
)


class CreateTables(Operation):
    """Make the tables that operations on models and fields leave behind; none may touch rows."""

    def __init__(self, steps: list[Operation]) -> None:
        self.steps = steps

    def state_forwards(self, app_label: str, state: ProjectState) -> None:
        state.__dict__.pop("apps", None)  # worked out once, when all models are known
        for step in self.steps:
            step.state_forwards(app_label, state)

    def database_forwards(
        self,
        app_label: str,
        schema_editor: BaseDatabaseSchemaEditor,
        from_state: ProjectState,
        to_state: ProjectState,
    ) -> None:
        for model in to_state.apps.get_app_config(app_label).get_models():
            if self.allow_migrate_model(schema_editor.connection.alias, model):
                schema_editor.create_model(model)

    def database_backwards(
        self,
        app_label: str,
        schema_editor: BaseDatabaseSchemaEditor,
        from_state: ProjectState,
        to_state: ProjectState,
    ) -> None:
        for model in reversed([*from_state.apps.get_app_config(app_label).get_models()]):
            if self.allow_migrate_model(schema_editor.connection.alias, model):
                schema_editor.delete_model(model)

    def describe(self) -> str:
        return "Create all tables at once"


def _steps() -> list[Operation]:
    """What the migrations that this one stands for do, in their order."""
    found = (import_module(f"{__package__}.{name}").Migration for name in STEPS)
    return [step for migration in found for step in migration.operations]


class Migration(migrations.Migration):
    initial = True
    replaces = [("reviews", name) for name in STEPS]
    dependencies: list[tuple[str, str]] = []
    operations = [CreateTables(_steps())]
