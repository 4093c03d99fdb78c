"""Cases of label files that are refused."""

from labelkit.errors.label_file import (
    LabelFileUnreadable,
    LabelKeyMissing,
    LabelKeyUnknown,
    LabelSharesNotWhole,
    LabelValueWrong,
    SituationContradicts,
)
from labelkit.reading.label_file import read_label

WHOLE = 'market = ["us"]\nname = "Clover Honey"\ndeclares = "1 lb"\n'


def label(text, file="my.toml"):
    return lambda: read_label(text, file)


def with_(text):
    return label(WHOLE + text)


CASES = [
    (LabelFileUnreadable, label("name = [\n"), "my.toml is not valid TOML"),
    (
        LabelKeyUnknown,
        with_('flora_source = "clover"\n'),
        "my.toml, line 4: “flora_source” is not a key of a label file",
    ),
    (LabelKeyUnknown, with_('flora_source = "clover"\n'), "Did you mean “floral_source”?"),
    (
        LabelKeyUnknown,
        with_('colour = "amber"\n'),
        "Use one of: market, kind, name",
    ),
    (LabelKeyUnknown, with_('[maker]\nname = "Sunny Ridge"\nfone = "1"\n'), "line 6: “fone” is not a key of [maker]"),
    (LabelKeyUnknown, with_('[panel]\ndiametre = "2.5 in"\n'), "Did you mean “diameter”?"),
    (
        LabelKeyUnknown,
        with_("[situation]\nown_hives = true\nhome_kichen = true\n"),
        "line 6: “home_kichen” is not a key",
    ),
    (
        LabelKeyUnknown,
        with_('origin = [{ country = "US", shares = 100 }]\n'),
        "line 4: “shares” is not a key of origin",
    ),
    (LabelKeyMissing, label('name = "Honey"\ndeclares = "1 lb"\n'), "my.toml has no “market”."),
    (LabelKeyMissing, label('market = "us"\nname = " "\ndeclares = "1 lb"\n'), "my.toml has no “name”."),
    (LabelKeyMissing, label('market = "us"\nname = "Honey"\n'), 'declares = "1 lb"'),
    (LabelValueWrong, with_('kind = "hony"\n'), "line 4: kind = “hony” is not one of honey, infused, comb, blend"),
    (LabelValueWrong, with_('[story]\nharvest = "last"\n'), "harvest = “last” is not a year such as"),
    (LabelValueWrong, with_('kind = "hony"\n'), "Did you mean “honey”?"),
    (LabelValueWrong, with_("lines = [1, 2]\n"), "a list of texts"),
    (LabelValueWrong, with_("grade = 1\n"), "a text in double quotes"),
    (LabelValueWrong, with_('maker = "Sunny Ridge"\n'), "begin it with a line [maker]"),
    (LabelValueWrong, with_('situation = "home"\n'), "begin it with a line [situation]"),
    (LabelValueWrong, with_('best_before = "June 2028"\n'), "line 4: best_before = “June 2028” is not a day"),
    (LabelValueWrong, with_('best_before = "2028-13"\n'), "2028-13"),
    (LabelValueWrong, with_('origin = "US"\n'), "begun with a line [[origin]]"),
    (LabelValueWrong, with_('origin = [{ country = "UK" }]\n'), "DE or NZ (United Kingdom is GB.)"),
    (LabelValueWrong, with_('origin = [{ country = "US", share = "most" }]\n'), "a number of percent"),
    (LabelValueWrong, with_('origin = [{ country = "US" }, { country = "AR" }]\n'), "a number of percent"),
    (
        LabelValueWrong,
        with_('[situation]\nhome_kitchen = "yes"\n'),
        "line 5: home_kitchen = “yes” is not true or false",
    ),
    (LabelValueWrong, with_("[situation]\ngallons_per_year = -5\n"), "a number, 0 or more"),
    (LabelValueWrong, with_("[situation]\nfood_sales_per_year = 18000\n"), "“18000 USD”"),
    (LabelValueWrong, with_('[situation]\nsells_to = ["stal"]\n'), "Did you mean “stall”"),
    (
        LabelSharesNotWhole,
        with_('origin = [{ country = "US", share = 60 }, { country = "AR", share = 30 }]\n'),
        "the shares of origin US 60 %, AR 30 % add up to 90 %, not to 100.",
    ),
    (
        SituationContradicts,
        with_('[situation]\nkind = "comb"\n'),
        "the file says kind = “honey” and kind = “comb” in the situation, but a jar holds one kind of honey.",
    ),
    (SituationContradicts, with_('[panel]\ndiameter = "2 in"\nwidth = "2 in"\n'), "either round or has flat sides"),
    (SituationContradicts, with_("[situation]\nraw = true\npasteurized = true\n"), "pasteurized honey is not raw"),
    (SituationContradicts, with_("[situation]\nown_hives = true\nimporter = true\n"), "is not imported"),
    (
        SituationContradicts,
        with_('[situation]\nfood_sales_per_year = "9 USD"\nall_sales_per_year = "8 USD"\n'),
        "food is a part of everything",
    ),
    (
        SituationContradicts,
        with_('[situation]\nsells_to = ["wholesale"]\npacked_where_sold = true\n'),
        "what goes through other hands is sold elsewhere",
    ),
    (
        SituationContradicts,
        with_('grade = "U.S. Grade A"\n[situation]\ngraded = false\n'),
        "a printed grade is a grade",
    ),
]
