"""EPCIS 2.0: every document is valid against the schema that stands beside this file.

That schema is written for labelkit. GS1's own comes without a licence to pass copies on, so it is no part of this tree;
where it lies in ``../shared/epcis``, the documents are held against it too, and so is our schema.
"""

import functools
import json
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from jsonschema import Draft7Validator

from labelkit.record import open_record
from labelkit.sale.account_events import Delivery
from labelkit.sale.events import Sale
from labelkit.sale.stall_events import StallDay, StallLoad
from labelkit.trace.epcis import CONTEXT, Names, epcis_document
from labelkit.trace.hold import Hold, Release
from labelkit.trace.recall_events import Recall
from tests.needs import step_aside
from tests.record.season import AT, LATER, LOT, SISTER, book_season, line
from tests.record.seasons_at_random import live, verbs
from tests.walks import examples

SCHEMA = Path(__file__).with_name("epcis.schema.json")
PUBLISHED = Path(__file__).parents[3] / "shared" / "epcis" / "schema" / "EPCIS-JSON-Schema.json"
NAMES = Names("https://hazelbank.example", {"one pound": "09521234543213"})
LINK = f"https://id.gs1.org/01/09521234543213/10/{LOT}"
# Core Business Vocabulary 2.0: the steps and states used here
STEPS = {
    "commissioning",
    "creating_class_instance",
    "retail_selling",
    "shipping",
    "other",
    "receiving",
    "transporting",
    "holding",
    "storing",
    "destroying",
    "sampling",
    "stock_taking",
    "inspecting",
}
STATES = {
    "in_progress",
    "active",
    "retail_sold",
    "in_transit",
    "returned",
    "sellable_accessible",
    "non_sellable_other",
    "destroyed",
    "unknown",
    "recalled",
}


@pytest.fixture(scope="module")
def story(tmp_path_factory):
    with book_season(tmp_path_factory.mktemp("season") / "season.labelkit") as book:
        with book.work(who="Ada", at=AT + timedelta(hours=1)) as work:
            work.add(Delivery(LATER, "17", "Hill café", (line(4),), address=("2 Invented lane", "Nowhere")))
            work.add(StallLoad(LATER, "Saturday market", (line(3, price=None),)))
            work.add(StallDay(LATER, "Saturday market", (line(1),), back=(line(1),), missing=(line(1),)))
            work.add(Recall(LATER, "R1", "foreign-body", "a splinter", (LOT, SISTER)))
            work.add(Hold(LATER, (LOT,), "a splinter", jars=(line(2),)))
            work.add(Release(LATER, (LOT,), "it was wax", jars=(line(2),)))
            work.correct(11, "no gift")
            work.correct(
                9, "it was 11 jars", Sale(LATER, (line(11), line(3, SISTER)), to="shop", customer="Corner shop")
            )
            work.commit()
        yield tuple(book.events())


def made(story, names=NAMES):
    return epcis_document(story, names, AT)


def by_seq(document, seq):
    return [
        each
        for each in document["epcisBody"]["eventList"]
        if each["eventID"].split("/event/")[1].split("/")[0] == str(seq)
    ]


def check(document):
    """What the schema does not say: no negative quantity, kilograms by their Rec 20 code, every id once, known words."""
    ids = [each["eventID"] for each in document["epcisBody"]["eventList"]]
    assert len(ids) == len(set(ids))
    for each in document["epcisBody"]["eventList"]:
        lists = [each.get(name, []) for name in ("quantityList", "inputQuantityList", "outputQuantityList")]
        assert any(lists)
        for element in (e for one in lists for e in one):
            assert element["epcClass"].startswith("https://")
            assert element.get("quantity", 1) > 0
            assert element.get("uom", "KGM") == "KGM"
        assert each["bizStep"] in STEPS and each.get("disposition", "active") in STATES
        assert ("action" in each) == (each["type"] == "ObjectEvent")
        assert each["eventTime"][-6:] == each["eventTimeZoneOffset"]


def validator(schema=SCHEMA):
    text = json.loads(schema.read_text(encoding="utf-8"))
    return Draft7Validator(text, format_checker=Draft7Validator.FORMAT_CHECKER)


def faults(document, schema=SCHEMA):
    return [f"{error.json_path}: {error.message}" for error in validator(schema).iter_errors(document)]


def published():
    if not PUBLISHED.exists():
        step_aside("the EPCIS schema")
    return PUBLISHED


@pytest.mark.parametrize("names", [NAMES, Names("https://hazelbank.example")], ids=["with GTINs", "without"])
def test_the_season_is_valid_epcis_with_format_checking_on(story, names):
    assert faults(made(story, names)) == []


@pytest.mark.parametrize("names", [NAMES, Names("https://hazelbank.example")], ids=["with GTINs", "without"])
def test_the_season_is_valid_by_the_published_schema_too(story, names):
    assert faults(made(story, names), published()) == []


# What to break, and into what: the name of the field, and a value no EPCIS document may have there.
WRONG = {
    "epcClass": ("BUCKET-7", None),
    "quantity": ("12", None),
    "uom": ("kilograms",),
    "eventTime": ("yesterday", "2026-07-14"),
    "eventTimeZoneOffset": ("Z", "+2:00"),
    "eventID": ("seventeen",),
    "bizStep": ("transforming", "Commissioning"),
    "disposition": ("Recalled",),
    "action": ("TOUCH",),
    "type": ("HoneyEvent", None),
    "schemaVersion": (2,),
    "creationDate": ("July",),
    "reason": ("a slip",),
    "destination": ("the corner shop",),
}


def broken(document, field, value):
    """Copies of a document, each with one field of this name set to a wrong value, or taken out where it is None."""
    for way in _ways_to(document, field):
        copy = json.loads(json.dumps(document))
        *up, last = way
        holder = functools.reduce(lambda found, key: found[key], up, copy)
        if value is None:
            del holder[last]
        else:
            holder[last] = value
        yield copy


def _ways_to(part, field, way=()):
    if isinstance(part, dict | list):
        for key, inner in part.items() if isinstance(part, dict) else enumerate(part):
            if key == field:
                yield (*way, key)
            yield from _ways_to(inner, field, (*way, key))


@pytest.mark.parametrize(("field", "value"), [(field, value) for field, wrong in WRONG.items() for value in wrong])
def test_a_wrong_field_anywhere_in_a_document_is_found(story, field, value):
    documents = list(broken(made(story), field, value))[:12]
    if value is None and field == "quantity":  # the one field that may be missing: a class of jars without a count
        assert all(not faults(each) for each in documents)
        return
    assert documents and all(faults(each) for each in documents)


@pytest.mark.exhaustive(one_in=4)
@pytest.mark.parametrize(("field", "value"), [(field, value) for field, wrong in WRONG.items() for value in wrong])
def test_what_the_published_schema_refuses_ours_refuses_too(story, field, value):
    documents = list(broken(made(story), field, value))[:6]
    assert all(faults(each) for each in documents if faults(each, published()))


@settings(max_examples=examples(15))
@given(season=verbs)
def test_any_season_makes_valid_epcis(tmp_path_factory, season):
    with open_record(tmp_path_factory.mktemp("any") / "season.labelkit", create=True) as book:
        live(book, season)
        document = made(tuple(book.events()))
    check(document)
    assert faults(document) == []


def test_the_document_is_well_made_by_our_own_rules(story):
    document = made(story)
    assert document["@context"][0] == CONTEXT and document["schemaVersion"] == "2.0"
    check(document)
    json.dumps(document, allow_nan=False)


def test_a_bucket_is_commissioned_with_its_harvest_and_yard(story):
    (weighed,) = by_seq(made(story), 3)
    assert (weighed["action"], weighed["bizStep"]) == ("ADD", "commissioning")
    assert weighed["quantityList"] == [{"epcClass": "https://hazelbank.example/lot/B1", "quantity": 27.3, "uom": "KGM"}]
    assert weighed["ilmd"]["honey:sources"] == [{"honey:yard": "Mill meadow", "honey:hives": ["H1", "H2"]}]


def test_bottling_turns_a_bucket_into_jars_named_by_digital_link(story):
    (bottled,) = by_seq(made(story), 7)
    assert bottled["type"] == "TransformationEvent" and "action" not in bottled
    assert bottled["inputQuantityList"] == [
        {"epcClass": "https://hazelbank.example/lot/M1", "quantity": 13.8, "uom": "KGM"}
    ]
    assert bottled["outputQuantityList"] == [{"epcClass": LINK, "quantity": 30}]


def test_a_delivery_ships_to_its_customer_under_its_number(story):
    (shipped,) = by_seq(made(story), 14)
    assert (shipped["bizStep"], shipped["disposition"]) == ("shipping", "in_transit")
    assert shipped["destinationList"] == [
        {"type": "possessing_party", "destination": "https://hazelbank.example/party/Hill%20caf%C3%A9"}
    ]
    assert shipped["bizTransactionList"][0]["type"] == "desadv"


def test_a_market_day_is_sold_brought_back_and_counted_missing(story):
    day = by_seq(made(story), 16)
    assert [(each["bizStep"], each.get("disposition")) for each in day] == [
        ("retail_selling", "retail_sold"),
        ("receiving", "sellable_accessible"),
        ("stock_taking", "unknown"),
    ]
    assert {each["readPoint"]["id"] for each in day} == {"https://hazelbank.example/place/Saturday%20market"}


def test_a_recall_names_every_class_of_jars_it_calls_back(story):
    (called,) = by_seq(made(story), 17)
    assert called["disposition"] == "recalled"
    assert [e["epcClass"] for e in called["quantityList"]] == [LINK, LINK.replace(LOT, SISTER)]


def test_a_wrong_event_declares_its_error_and_points_at_the_right_one(story):
    document = made(story)
    (gift,), (sale,) = by_seq(document, 11), by_seq(document, 9)
    assert gift["errorDeclaration"]["reason"] == "did_not_occur"
    assert sale["errorDeclaration"]["reason"] == "incorrect_data"
    assert sale["errorDeclaration"]["correctiveEventIDs"] == ["https://hazelbank.example/event/22"]
    assert by_seq(document, 22)[0]["quantityList"][0]["quantity"] == 11
