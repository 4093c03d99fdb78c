"""The rules that keep a database from being changed: as they stand in it, and as this labelkit makes them.

In a file that is every table, index and rule. On a server it is every rule and every function of ours by its whole
definition, whether it is switched on, who owns it, and whatever else could turn a statement into another one.
"""

from __future__ import annotations

from labelkit.record import engine as adapter
from labelkit.record.engine import sa

_FILE = "SELECT type || ' ' || name, coalesce(sql, '') FROM sqlite_master WHERE name NOT LIKE 'sqlite_stat%'"
_OURS = "(SELECT relnamespace FROM pg_class WHERE oid = 'event'::regclass)"
_SERVER = (
    f"""
    SELECT 'rule ' || t.tgname, pg_get_triggerdef(t.oid) || CASE t.tgenabled WHEN 'O' THEN '' ELSE ' switched off' END
    FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid
    WHERE NOT t.tgisinternal AND c.relnamespace = {_OURS}
    """,
    f"""
    SELECT 'function ' || p.proname, pg_get_functiondef(p.oid) ||
        CASE WHEN p.proowner = (SELECT relowner FROM pg_class WHERE oid = 'event'::regclass) THEN '' ELSE ' of another owner' END
    FROM pg_proc p WHERE p.pronamespace = {_OURS} AND p.proname LIKE 'labelkit%%'
    """,
    f"""
    SELECT 'rewriting ' || r.rulename || ' of ' || c.relname, pg_get_ruledef(r.oid)
    FROM pg_rewrite r JOIN pg_class c ON c.oid = r.ev_class WHERE c.relnamespace = {_OURS} AND c.relkind = 'r'
    """,
    f"""
    SELECT 'row security of ' || c.relname, 'on' FROM pg_class c
    WHERE c.relnamespace = {_OURS} AND (c.relrowsecurity OR c.relforcerowsecurity)
    """,
)


def rules_found(connection: sa.Connection) -> dict[str, str]:
    """The rules of a database by name, as they stand."""
    asked = (_FILE,) if connection.dialect.name == "sqlite" else _SERVER
    return {name: rule for query in asked for name, rule in connection.exec_driver_sql(query).all()}


def rules_expected(connection: sa.Connection) -> dict[str, str]:
    """The same for a database made new in today's form."""
    if connection.dialect.name == "sqlite":
        with sa.create_engine("sqlite://").begin() as fresh:
            adapter.bring_up(fresh)
            return rules_found(fresh)
    schema = connection.exec_driver_sql(f"SELECT quote_ident(nspname) FROM pg_namespace WHERE oid = {_OURS}").scalar()
    expected: dict[str, str] = {}
    for form in adapter.form_modules():
        for name, (table, when, each, function) in getattr(form, "SERVER_RULES", {}).items():
            # PostgreSQL writes the events of a rule in an order of its own.
            when = when.replace("UPDATE OR DELETE", "DELETE OR UPDATE")
            expected[f"rule {name}"] = (
                f"CREATE TRIGGER {name} {when} ON {schema}.{table} {each} EXECUTE FUNCTION {function}()"
            )
        for name, body in getattr(form, "SERVER_FUNCTIONS", {}).items():
            expected[f"function {name}"] = _function(schema, name, "trigger", " LANGUAGE plpgsql", body)
        if hasattr(form, "SERVER_LOCK"):
            how = f" LANGUAGE sql\n SECURITY DEFINER\n SET search_path TO {_quoted(schema)}, 'pg_temp'"
            expected[f"function {form.SERVER_LOCK}"] = _function(
                schema, form.SERVER_LOCK, "void", how, form.SERVER_LOCK_BODY
            )
    return expected


def _function(schema: str | None, name: str, gives: str, how: str, body: str) -> str:
    """A function as pg_get_functiondef writes it."""
    return f"CREATE OR REPLACE FUNCTION {schema}.{name}()\n RETURNS {gives}\n{how}\nAS $function${body}$function$\n"


def _quoted(schema: str | None) -> str:
    return "'" + (schema or "").strip('"') + "'"
