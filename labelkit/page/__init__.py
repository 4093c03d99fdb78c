"""The local page: the same verbs as the command line, for a browser on the same machine.

A form becomes the very command a producer would type (:mod:`labelkit.page.verbs`), so that both refuse the same things
in the same words. Flask answers, waitress serves; templates are filled by :mod:`labelkit.shipped` like all others.
"""
