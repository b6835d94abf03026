"""Blocks and files on their pages: pasted after a preview, taken out as they come in."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from criteria.schedules.rooms import Room
from criteria.typed.tables import parse_block, read_grid
from reviews.deeds import package_keeping
from reviews.models import BroughtFile, Change, Row
from tests.factories import RevisionFactory
from tests.reviews.schedule_steps import at


@pytest.fixture
def client(cast):
    return cast.client(cast.student)


class TestPaste:
    BLOCK = "mark\troom\tfloor_m2\tuse\nR3\tLab\t12\tlab\nR4\tStore\tsmall\tstore\n"

    def look(self, client, scheme, slug="rooms", **more):
        sent = {"text": self.BLOCK, "bare_in": "metric"} | more
        return client.post(at("paste-rows", scheme, slug=slug), sent, follow=True)

    def take(self, client, page, **ticked):
        address = reverse("take-file", args=[page.package.scheme_id, page.brought.pk])
        return client.post(address, {"seen": page.seen, "read": page.read, **ticked})

    def test_looking_keeps_nothing_and_shows_every_refused_cell(self, cast, row, client):
        answer = self.look(client, cast.scheme)
        text = answer.content.decode()
        assert Row.objects.count() == 1
        assert "small" in text
        assert "Expected an area" in text
        assert [new.name for new in answer.context["page"].parts[0].new] == ["R3", "R4"]

    @pytest.mark.parametrize(("goes", "marks"), [(False, ["R2", "R3", "R4"]), (True, ["R3", "R4"])])
    def test_a_block_is_added_or_put_in_place(self, cast, row, client, goes, marks):
        page = self.look(client, cast.scheme).context["page"]
        gone = [each.pk for each in page.parts[0].gone]
        assert gone == [row.pk]
        self.take(client, page, row=["0", "1"], **({"gone": gone} if goes else {}))
        assert [r.cells["mark"] for r in Row.objects.all()] == marks
        assert Row.objects.get(cells__mark="R4").cells["floor_m2"] == "small"
        assert Change.objects.filter(schedule="rooms").count() == 2

    def test_a_line_whose_mark_is_here_says_what_differs(self, cast, row, client):
        block = "mark,floor_m2,use\nR2,9,kitchen\n"
        answer = self.look(client, cast.scheme, text=block)
        [part] = answer.context["page"].parts
        assert not part.new
        assert [cell.column.head for cell in part.known[0].cells] == ["floor_m2"]
        self.take(client, answer.context["page"], cell=["0:floor_m2"])
        assert Row.objects.get().cells["floor_m2"] == "9"

    def test_all_that_differs_can_be_ticked_at_once(self, cast, row, client):
        answer = self.look(client, cast.scheme, text="mark,floor_m2\nR2,9\n")
        assert 'value="0:floor_m2" checked' not in answer.content.decode()
        address = answer.redirect_chain[0][0]
        assert (
            'value="0:floor_m2" checked' in client.get(f"{address}?tick=differs").content.decode()
        )

    def test_a_csv_file_is_read_and_named(self, cast, client):
        file = SimpleUploadedFile("rooms.csv", "mark,room,floor_m2\r\nR3,Küche,12 m²\r\n".encode())
        answer = self.look(client, cast.scheme, text="", file=file)
        assert answer.context["page"].brought.name == "rooms.csv"
        assert "Küche" in answer.content.decode()
        assert "12 m²" in answer.content.decode()

    def test_a_csv_file_as_some_spreadsheets_write_it_is_read(self, cast, client):
        file = SimpleUploadedFile(
            "rooms.csv", "mark;room;floor_m2\r\nR3;Küche;12 m²".encode("cp1252")
        )
        answer = self.look(client, cast.scheme, text="", file=file)
        assert answer.context["page"].proposal.rows[0].cells["floor_m2"].text == "12 m²"

    @pytest.mark.parametrize(
        ("file", "said"),
        [
            (
                SimpleUploadedFile("rooms.xlsx", b"PK\x03\x04\x00\x00"),
                "Read “rooms.xlsx”. Expected a text file",
            ),
            (
                SimpleUploadedFile("rooms.csv", b"\x81\x8d\x8f"),
                "Read “rooms.csv”. Expected letters that can be told",
            ),
            (
                SimpleUploadedFile("rooms.csv", b"a" * 4_000_001),
                "4,000,001 bytes”. Expected 1 MB at most",
            ),
        ],
    )
    def test_a_file_that_is_no_table_is_refused(self, cast, client, file, said):
        answer = self.look(client, cast.scheme, text="", file=file)
        assert said in answer.content.decode()
        assert answer.context["preview"] is None

    def test_nothing_pasted_is_said(self, cast, client):
        text = self.look(client, cast.scheme, text="  ").content.decode()
        assert "Read nothing. Expected at least one line, pasted or in a file." in text

    def test_a_unit_that_is_not_offered_is_refused(self, cast, client):
        text = self.look(client, cast.scheme, bare_in="cubits").content.decode()
        assert "Read “cubits”. Expected metric or us." in text
        assert "R3" in text

    def test_bare_numbers_are_in_what_was_chosen_unless_their_head_says(self, cast, client):
        block = "mark,room,floor_m2 [m²],clear_height_m\nR3,Lab,12,8\n"
        answer = self.look(client, cast.scheme, text=block, bare_in="us")
        cells = answer.context["page"].proposal.rows[0].cells
        assert (cells["floor_m2"].text, cells["clear_height_m"].text) == ("12", "8 ft")

    def test_heads_that_mean_nothing_here_are_named(self, cast, client):
        block = "mark,room,colour\nR3,Lab,red\n"
        assert "left out: colour" in self.look(client, cast.scheme, text=block).content.decode()

    def test_a_line_with_more_cells_than_heads_is_said(self, cast, client):
        block = "mark,room,use\nR3,Lab,lab,red\n"
        text = self.look(client, cast.scheme, text=block).content.decode()
        assert "beyond the last: read “red”; expected 3 cells in a row" in text

    def test_references_to_no_row_are_refused_before_anything_is_kept(self, cast, row, client):
        block = "mark,room,n\nW1,R9,1\n"
        text = self.look(client, cast.scheme, slug="windows", text=block).content.decode()
        assert "Expected a mark of the rooms schedule (R2)" in text

    def test_more_rows_than_there_may_be_are_refused(self, cast, client):
        block = "mark,room\n" + "R1,Lab\n" * 1001
        text = self.look(client, cast.scheme, text=block).content.decode()
        assert "Rows: read “1001”. Expected at most 1000" in text
        assert not BroughtFile.objects.exists()


class TestExport:
    def test_what_is_taken_out_reads_back_the_same(self, cast, package, row, client):
        cells = {"mark": "R3", "room": "=4'-6\"", "floor_m2": "86 sq ft"}
        package_keeping.add_row(package, "rooms", cells, cast.student)
        answer = client.get(at("export-schedule", cast.scheme))
        assert answer["Content-Disposition"] == 'attachment; filename="R01-rooms.csv"'
        text = answer.content.decode("utf-8")
        assert text.startswith("\ufeffmark,room,floor_m2 [m²]")
        records = [
            {h: t for h, t in r.items() if t}
            for r in read_grid(Room.schedule, parse_block(text)).records
        ]
        assert records == [r.cells for r in Row.objects.all()]

    def test_a_us_reader_who_brings_it_back_changes_nothing(self, cast, row):
        cast.student.units = "us"
        cast.student.save()
        client = cast.client(cast.student)
        text = client.get(at("export-schedule", cast.scheme)).content.decode("utf-8-sig")
        assert text.startswith("Mark,Room,Floor [ft²],")
        assert ",86.11128333," in text
        kept = Row.objects.get().cells
        for bare_in in ("us", "metric"):
            sent = {"text": text, "bare_in": bare_in}
            looked = client.post(at("paste-rows", cast.scheme), sent, follow=True)
            assert not looked.context["page"].has_news
        assert Row.objects.get().cells == kept

    def test_cells_begin_with_no_formula(self, cast, package, client):
        package_keeping.add_row(
            package, "rooms", {"mark": "R3", "room": "=HYPERLINK(1)"}, cast.student
        )
        grid = client.get(at("export-schedule", cast.scheme)).content.decode()
        assert "'=HYPERLINK" in grid
        assert parse_block(grid)[1][1] == "=HYPERLINK(1)"


class TestRowsOfAnEarlierRevision:
    CELLS = {"mark": "R7", "room": "Store", "use": "store", "floor_m2": "4'-6\" x 2"}

    @pytest.fixture
    def revision(self, cast):
        schedules = {"rooms": [self.CELLS]}
        return RevisionFactory(
            scheme=cast.scheme,
            contents={"statement": "", "schedules": schedules, "site": {}, "targets": []},
        )

    def test_they_go_into_the_box_as_they_were_typed_and_come_back_as_one_change(
        self, cast, client, revision
    ):
        page = client.get(at("paste-rows", cast.scheme))
        assert "Rows of revision A (1)" in page.content.decode()
        page = client.get(at("paste-rows", cast.scheme), {"revision": revision.pk})
        text = page.context["form"]["text"].value()
        sent = {"text": text, "bare_in": "us"}
        looked = client.post(at("paste-rows", cast.scheme), sent, follow=True)
        (came,) = looked.context["page"].proposal.rows
        assert {head: cell.text for head, cell in came.cells.items()} == self.CELLS
        assert Row.objects.count() == 0

    def test_another_schemes_rows_are_never_shown(self, cast, client):
        other = RevisionFactory(
            scheme=cast.other_scheme,
            contents={"schedules": {"rooms": [self.CELLS]}, "site": {}, "targets": []},
        )
        for asked in (other.pk, "nonsense", 0, 10**30):
            page = client.get(at("paste-rows", cast.scheme), {"revision": asked})
            assert page.status_code == 200
            assert not page.context["form"]["text"].value()
