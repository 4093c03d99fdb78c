"""What is left in a bucket may be nothing, and is said like any other weight."""


def test_a_bucket_weighed_back_empty_is_booked_so_and_its_missing_honey_seen(labelkit, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for words in (
        "start --market us --currency USD",
        "weigh --bucket B1 --net 10.2_lb --moisture 17.4",
        "price --set pound --declares 1_lb --price 10 --cost 1",
    ):
        assert labelkit("--day", "2026-07-20", *(word.replace("_", " ") for word in words.split())).code == 0
    ran = labelkit("--day", "2026-07-25", "bottle", "--bucket", "B1", "--jar", "pound=10", "--left", "0 lb", "--json")
    assert ran.code == 0, ran.err
    held = labelkit("stock", "--json").document["buckets"]
    assert [(each["id"], each["holds_g"]) for each in held] in ([], [("B1", "0")])
    assert not [due for due in labelkit("--day", "2026-07-25", "today").out.splitlines() if "Weigh what is left" in due]
    # A net weight, and what was lost, are still more than nothing.
    for option in ("--net", "--gross"):
        assert labelkit("weigh", "--bucket", "B2", option, "0 lb").code == 2
