"""Pages of gates: on the job, in the list, each way with its form, the paper, the mail."""

import io

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image
from pypdf import PdfReader

from jobs.gates import views
from jobs.gates.actions import Seen, override_gate, pass_gate
from jobs.gates.models import Gate, GateEntry
from jobs.gates.reports import lots_of, sign_off
from shared.access import RIGHTS
from shared.files.models import Attachment
from shared.outbox.models import Message
from shared.pdf import Letterhead, render_html
from tests.cast import AS_HTMX
from tests.factories.catalogue import make_fabric, make_supplier
from tests.factories.clients import make_client
from tests.factories.gates import gate_of, make_waiting_job
from tests.factories.jobs import AT
from tests.pages import BAD_TEXTS, grows, queries, refused, soup, text

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]
SIGNED = {
    "seen": "shut",
    "code": "hm-12",
    "colour": "moss",
    "dye_lot": "L7",
    "reference": "folder",
}
WAYS = ("gate-pass", "gate-override", "gate-drop", "gate-shut")


@pytest.fixture
def job(owner):
    return make_waiting_job(by=owner)


@pytest.fixture
def page(client_as, owner):
    return client_as(owner)


def way(name, gate):
    return reverse(f"jobs:{name}", args=(gate.pk,))


def section(browser, job):
    return soup(browser.get(job.get_absolute_url())).select_one("#waits")


def picture():
    made = io.BytesIO()
    Image.new("RGB", (60, 40), "teal").save(made, "PNG")
    return SimpleUploadedFile("swatch.png", made.getvalue(), "image/png")


class TestOnTheJob:
    def test_each_gate_says_what_and_why_and_what_to_do(self, page, job):
        gate = gate_of(job, "fabric")
        row = section(page, job).select_one(f"#gate-{gate.pk}")
        assert text(row.h3) == gate.title
        assert f"3 panels are covered with {gate.material.name}" in text(row)
        assert f"{job.code}-01 to {job.code}-03" in text(row)
        assert "Have the client sign for code, colour and dye lot." in text(row)
        assert {link["href"] for link in row.select("a")} == {
            way(name, gate)
            for name in ("gate-pass", "gate-paper", "gate-mail", "gate-override",
                         "gate-drop")
        }  # fmt: skip

    def test_what_is_in_hand_is_folded_with_who_when_and_its_history(
        self, page, owner, job
    ):
        gate = gate_of(job, "fabric")
        pass_gate(gate, Seen("hm", "moss", "L7"), seen="shut", by=owner, at=AT)
        fold = section(page, job).select_one("details.fold")
        assert text(fold.summary) == "In hand: 1"
        assert "Written down by Ada on 2 March 2026" in text(fold)
        assert "Dye lot L7" in text(fold)
        assert "In hand. Ada" in text(fold.select_one(".log"))

    def test_a_job_that_waits_for_nothing_says_so(self, page, owner):
        job = make_waiting_job(by=owner, deposit="", reveals=0, cloths=[])
        assert "Nothing: no deposit" in text(section(page, job))

    def test_a_job_from_before_can_be_set_up(self, page, client_as, maker, owner):
        job = make_waiting_job(by=owner, gates=False)
        assert not section(client_as(maker), job).select("button")
        found = section(page, job)
        assert "asks for 3 things" in text(found)
        assert not Gate.objects.exists()
        action = found.form["action"]
        assert client_as(maker).post(action).status_code == 403
        said = page.post(action, follow=True)
        assert f"{job.code} waits for the deposit, a signed fabric" in text(soup(said))
        assert job.gates.count() == 3
        page.post(action)
        assert job.gates.count() == 3

    def test_only_who_sees_money_meets_the_deposit(self, page, client_as, maker, job):
        asked = {"seen": "shut", "reference": "sum of 321.09 by bank"}
        page.post(way("gate-pass", gate_of(job, "deposit")), asked)
        owners, makers = section(page, job), section(client_as(maker), job)
        assert text(owners).count("321.09") == 2
        assert "Deposit" in text(makers)
        for url in (job.get_absolute_url(), reverse("jobs:gates"), "/"):
            assert "321.09" not in client_as(maker).get(url).content.decode()

    def test_queries_do_not_grow_with_gates(self, page, owner, job):
        for gate in job.gates.all():
            override_gate(gate, reason="r", seen="shut", by=owner, at=AT)
        url = job.get_absolute_url()
        page.get(url)
        few = queries(page, url)
        many = make_waiting_job(
            by=owner, cloths=[(make_fabric(), 1) for _ in range(9)], setting="public"
        )
        for gate in many.gates.all():
            override_gate(gate, reason="r", seen="shut", by=owner, at=AT)
        assert queries(page, many.get_absolute_url()) == few

    def test_a_panel_says_its_lot_and_what_holds_it_up(self, page, owner, job):
        gate = gate_of(job, "fabric")
        pass_gate(gate, Seen("hm", "moss", "L7"), seen="shut", by=owner, at=AT)
        wall, reveal = job.panels.first(), job.panels.last()
        shown = soup(page.get(wall.get_absolute_url()))
        waits = text(shown.select_one("#panel-waits").find_parent("section"))
        assert "moss, hm" in waits
        assert "Dye lot L7" in waits
        assert "Deposit" in waits
        assert "Second measure" not in waits
        other = soup(page.get(reveal.get_absolute_url()))
        section = other.select_one("#panel-waits").find_parent("section")
        assert "Second measure" in text(section)

    def test_a_panel_waits_for_the_papers_of_its_own_cloth_only(self, page, owner):
        mine, other = make_fabric(), make_fabric()
        cloths = [(mine, 1), (other, 1)]
        job = make_waiting_job(by=owner, cloths=cloths, setting="public")
        shown = soup(page.get(job.panels.first().get_absolute_url()))
        waits = text(shown.select_one("#panel-waits").find_parent("section"))
        assert f"Fire papers of {mine.name}" in waits
        assert other.name not in waits

    def test_the_bench_says_so_beside_the_name(self, page, job):
        board = soup(page.get(reverse("jobs:bench"))).select_one(".board")
        assert (
            text(board.select_one(".pill"))
            == "waits for the deposit, a signed fabric and a second measure"
        )


class TestInHand:
    def test_a_fabric_is_asked_with_what_was_quoted(self, page, owner):
        cloth = make_fabric(code="hm-12", colour="moss")
        job = make_waiting_job(by=owner, cloths=[(cloth, 1)])
        url = way("gate-pass", gate_of(job, "fabric"))
        whole, part = soup(page.get(url)), soup(page.get(url, headers=AS_HTMX))
        for form in (whole.select_one("#gate-form"), part.select_one("#gate-form")):
            assert form["action"] == url
            assert form.select_one("[name=code]")["value"] == "hm-12"
            assert form.select_one("[name=colour]")["value"] == "moss"
        assert whole.html
        assert not part.html

    def test_what_was_signed_is_stored_with_its_swatch(self, page, job):
        gate = gate_of(job, "fabric")
        typed = SIGNED | {"swatch": picture()}
        answer = page.post(way("gate-pass", gate), typed, follow=True)
        assert "in hand. Undo" in text(soup(answer).select_one("#messages"))
        assert lots_of([job]) == {(job.pk, gate.material_id): "L7"}
        photo = Attachment.objects.get()
        shown = page.get(reverse("jobs:gate-photo", args=(photo.pk,)))
        assert shown["Content-Type"] == "image/jpeg"
        assert section(page, job).select_one(".photos__picture")

    def test_a_swatch_is_taken_out_and_put_back(self, page, client_as, maker, job):
        gate = gate_of(job, "fabric")
        page.post(way("gate-pass", gate), SIGNED | {"swatch": picture()})
        out = section(page, job).select_one(".photos form")["action"]
        assert client_as(maker).post(out).status_code == 403
        said = page.post(out, follow=True)
        assert not section(page, job).select_one(".photos")
        page.post(soup(said).select_one("#messages form")["action"])
        assert section(page, job).select_one(".photos")

    def test_papers_that_came_into_the_stores_are_offered(self, page, owner):
        cloth = make_fabric()
        job = make_waiting_job(by=owner, cloths=[(cloth, 1)], setting="public")
        cloth.fire_papers = "Report 12, folder F"
        cloth.save()
        assert "Papers are on file by now" in text(section(page, job))
        form = soup(page.get(way("gate-pass", gate_of(job, "fire"))))
        assert form.select_one("[name=reference]")["value"] == "Report 12, folder F"

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("code", ""),
            ("colour", ""),
            ("code", "x" * 61),
            ("dye_lot", "x" * 41),
            ("reference", "x" * 201),
            *(("colour", bad) for bad in BAD_TEXTS),
        ],
    )
    def test_bad_input_is_kept_and_nothing_stored(self, page, job, field, value):
        gate = gate_of(job, "fabric")
        refused(page, way("gate-pass", gate), SIGNED | {field: value}, field)
        assert not GateEntry.objects.exists()

    def test_what_is_no_picture_is_refused(self, page, job):
        typed = SIGNED | {"swatch": SimpleUploadedFile("a.png", b"no picture")}
        answer = page.post(way("gate-pass", gate_of(job, "fabric")), typed)
        assert answer.status_code == 422
        assert "no picture" in text(soup(answer).select_one("#id_swatch_field"))
        assert not Attachment.objects.exists()

    @pytest.mark.parametrize(("kind", "asks"), [("deposit", True), ("measure", False)])
    def test_what_must_be_found_again_needs_its_reference(self, page, job, kind, asks):
        url, typed = way("gate-pass", gate_of(job, kind)), {"seen": "shut"}
        if asks:
            refused(page, url, typed | {"reference": ""}, "reference")
        else:
            assert page.post(url, typed).status_code == 302
        assert gate_of(job, kind).is_shut == asks

    def test_makers_and_fitters_may_say_that_openings_were_measured(
        self, client_as, maker, fitter, job
    ):
        gate = gate_of(job, "measure")
        client_as(maker).post(way("gate-pass", gate), {"seen": "shut"})
        assert gate_of(job, "measure").by == maker
        entry = GateEntry.objects.get()
        client_as(fitter).post(reverse("jobs:gate-undo", args=(entry.pk,)))
        assert gate_of(job, "measure").is_shut
        url = way("gate-override", gate)
        assert client_as(maker).get(url).status_code == 403


class TestWithReason:
    @pytest.mark.parametrize(
        ("name", "state"), [("gate-override", "over"), ("gate-drop", "dropped")]
    )
    def test_is_stored_and_undone(self, page, job, name, state):
        gate = gate_of(job, "deposit")
        typed = {"seen": "shut", "reason": "Old client"}
        answer = page.post(way(name, gate), typed, follow=True)
        assert gate_of(job, "deposit").state == state
        assert "Old client" in text(section(page, job))
        undo = soup(answer).select_one("#messages form")["action"]
        page.post(undo)
        assert gate_of(job, "deposit").is_shut
        said = page.post(undo, follow=True)
        assert "can’t be taken back" in text(soup(said).select_one("#messages"))

    @pytest.mark.parametrize("value", ["", "x" * 201, *BAD_TEXTS])
    def test_needs_one_that_can_be_read(self, page, job, value):
        gate = gate_of(job, "deposit")
        typed = {"seen": "shut", "reason": value}
        refused(page, way("gate-override", gate), typed, "reason")
        assert not GateEntry.objects.exists()

    def test_whoever_is_late_is_told_so(self, page, owner, job):
        gate = gate_of(job, "deposit")
        pass_gate(gate, Seen(reference="bank"), seen="shut", by=owner, at=AT)
        typed = {"seen": "shut", "reason": "late"}
        answer = page.post(way("gate-override", gate), typed, follow=True)
        said = text(soup(answer).select_one("#messages"))
        assert said.startswith("Deposit: in hand by now. Look again.")
        assert page.post(way("gate-shut", gate), {"reason": "x"}).status_code == 422


class TestWhoMay:
    @pytest.mark.parametrize("name", WAYS)
    def test_not_makers_nor_strangers(self, client, client_as, maker, job, name):
        url = way(name, gate_of(job, "deposit"))
        assert client_as(maker).post(url, {"seen": "shut"}).status_code == 403
        assert client.get(url).url.startswith("/accounts/login/")
        assert client_as(maker).delete(url).status_code == 405

    @pytest.mark.parametrize("name", ["gate-paper", "gate-mail"])
    def test_the_paper_is_the_offices(self, client_as, fitter, page, job, name):
        assert (
            client_as(fitter).get(way(name, gate_of(job, "fabric"))).status_code == 403
        )
        assert page.get(way(name, gate_of(job, "deposit"))).status_code == 404

    def test_everybody_sees_the_list(self, client, client_as, job, request):
        for role in RIGHTS:
            person = request.getfixturevalue(role.value)
            assert client_as(person).get(reverse("jobs:gates")).status_code == 200
        assert client.get(reverse("jobs:gates")).status_code == 302
        assert client_as(person).post(reverse("jobs:gates")).status_code == 405


class TestList:
    URL = "/gates/"

    def test_says_by_kind_whom_to_ring(self, page, client_as, maker, owner):
        client = make_client(phone="01632 960 120")
        supplier = make_supplier(name="Weft", phone="01632 960 111")
        cloths = [(make_fabric(supplier=supplier), 1)]
        job = make_waiting_job(by=owner, client=client, cloths=cloths, setting="work")
        pass_gate(
            gate_of(job, "measure"), Seen(), seen="shut", by=owner, at=AT
        )  # fmt: skip
        override_gate(gate_of(job, "deposit"), reason="r", seen="shut", by=owner, at=AT)
        shown = soup(page.get(self.URL))
        assert [text(h) for h in shown.select("h2")] == [
            "Deposit",
            "Fabric signed for",
            "Fire papers",
        ]
        deposit, fabric, fire = shown.select(".slip")
        assert "Gone past by Ada on 2 March 2026: r. Still to come." in text(deposit)
        assert "01632 960 120" in text(fabric)
        assert "Weft, 01632 960 111" in text(fire)
        assert "960" not in text(soup(client_as(maker).get(self.URL)).main)

    def test_is_narrowed_by_kind_and_words(self, page, owner, job):
        other = make_waiting_job(by=owner)
        by_kind = soup(page.get(self.URL, {"kind": "measure"}))
        assert len(by_kind.select(".slip")) == 2
        by_word = soup(page.get(self.URL, {"q": other.code}, headers=AS_HTMX))
        assert not by_word.html
        assert len(by_word.select("#gates .slip")) == 3
        none = soup(page.get(self.URL, {"q": "nobody"}))
        assert "Nothing like that is waited for" in text(none)
        odd = soup(page.get(self.URL, {"kind": "moon\0", "q": "\0"}))
        assert len(odd.select(".slip")) == 6

    def test_with_nothing_says_what_will_show(self, page):
        assert "Nothing is waited for" in text(soup(page.get(self.URL)))

    def test_closed_jobs_are_left_out(self, page, job):
        type(job).objects.update(state="done")
        assert "Nothing is waited for" in text(soup(page.get(self.URL)))

    def test_queries_do_not_grow(self, page, owner):
        assert grows(page, self.URL, lambda: make_waiting_job(by=owner)) == 0


class TestPaper:
    def test_names_the_fabric_its_panels_and_what_is_agreed(self, page, owner):
        cloth = make_fabric(code="hm-12", colour="moss")
        job = make_waiting_job(by=owner, cloths=[(cloth, 2), (make_fabric(), 1)])
        gate = gate_of(job, "fabric", material=cloth)
        context = {"sheet": sign_off(gate), "letterhead": Letterhead("Shop")}
        paper = render_html("jobs/gates/pdf/sign_off.html", context)
        # the reveal panel is covered with the first cloth, too
        codes = f"{job.code}-01, {job.code}-02, {job.code}-04"
        for part in ("hm-12", "moss", codes, "Front room", "one dye lot"):
            assert part in paper
        assert f"{job.code}-03" not in paper
        assert "321.09" not in paper

    def test_is_one_page_for_many_rooms(self, page, owner):
        job = make_waiting_job(by=owner, cloths=[(make_fabric(), 30)])
        for number, panel in enumerate(job.panels.all()):
            panel.room_name = f"Room {number // 3}"
            panel.save()
        answer = page.get(way("gate-paper", gate_of(job, "fabric")))
        assert answer["Content-Type"] == "application/pdf"
        assert len(PdfReader(io.BytesIO(answer.content)).pages) == 1

    def test_goes_out_by_mail(self, page, owner, monkeypatch):
        monkeypatch.setattr(views, "sign_off_pdf", lambda gate, profile: b"%PDF-1.7")
        client = make_client(email="mara@example.org")
        job = make_waiting_job(by=owner, client=client)
        url = way("gate-mail", gate_of(job, "fabric"))
        form = soup(page.get(url)).select_one("#gate-mail")
        assert form.select_one("[name=to]")["value"] == "mara@example.org"
        typed = {"to": "mara@example.org", "subject": "Please sign", "body": "Dear M"}
        page.post(url, typed)
        message = Message.objects.get()
        assert message.attachment.content_type == "application/pdf"
        assert (message.about_kind, message.about_id) == ("job", job.pk)
        assert "Paper to sign mailed" in text(soup(page.get(job.get_absolute_url())))

    @pytest.mark.parametrize(
        ("field", "value"),
        [("to", ""), ("to", "mara"), ("to", "a@b.org,c@d.org"), ("subject", ""),
         ("body", "")],
    )  # fmt: skip
    def test_a_bad_mail_is_kept(self, page, job, field, value):
        typed = {"to": "m@example.org", "subject": "s", "body": "b"} | {field: value}
        refused(page, way("gate-mail", gate_of(job, "fabric")), typed, field)
        assert not Message.objects.exists()
