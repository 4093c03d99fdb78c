"""The order of the work, in which ``labelkit --help`` lists the commands. A new command gets its place in this list."""

ORDER = {
    "Set up": ("start", "demo", "page", "today", "doctor"),
    "Harvest": ("weigh", "drain", "receive", "blend", "bucket", "note"),
    "Plan and fill": (
        "warming",
        "plan",
        "run-sheet",
        "bottle",
        "batch",
        "check-weigh",
        "run-result",
        "stock",
        "lot-code",
    ),
    "Label": ("label-words", "labels", "relabel", "barcode", "sheet", "ruler"),
    "Rules and figures": ("check", "words", "rules", "reckon"),
    "Sell": (
        "price",
        "find-prices",
        "tax",
        "stall",
        "sell",
        "deliver",
        "pay",
        "remind",
        "honey-show",
        "result",
        "year",
    ),
    "Trace and keep": ("trace", "recall", "inspection", "papers", "record"),
    "Shell": ("completion",),
}
