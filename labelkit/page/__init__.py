"""The local page: the same verbs as the command line, for a browser on the same machine.

A form is read once (:mod:`labelkit.page.forms`) and goes to the use case the command goes to, so that both refuse the same
things in the same words. Flask answers, waitress serves; templates are filled by :mod:`labelkit.shipped` like all others.
"""
