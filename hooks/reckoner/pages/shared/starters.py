"""Lines to begin a plan and a kit with, for the pages that stay empty without one."""

from __future__ import annotations

from reckoner.pages.shared.parts import PageWriter

PLAN, KIT = "my-first-order", "my-kit"


def plan_start(writer: PageWriter) -> str:
    """A plan for a litre of the handbook's own first process or formula; empty where it has neither."""
    catalogue = writer.results.catalogue
    process, formula = next(iter(catalogue.processes), ""), next(iter(catalogue.formulas), "")
    if not process and not formula:
        return ""
    wanted = f"process: {process}" if process else f"formula: {formula}"
    return f"id: {PLAN}\nname: My first order\nover: 2 months\nwants:\n  - {wanted}\n    litres: 1 L"


def kit_start(writer: PageWriter) -> str:
    """A kit, its figures invented, for a process that a plan wants, else the first; empty where there is none."""
    catalogue = writer.results.catalogue
    wanted = (want.process for plan in catalogue.plans.values() for want in plan.wants if want.process)
    process = next(wanted, next(iter(catalogue.processes), ""))
    if not process:
        return ""
    return (
        f"id: {KIT}\nname: My kit\nkind: kit\nprocess: {process}\nprice: 30.00 {catalogue.settings.currency}\n"
        f"makes: 1 L\ndoes: 8-12 rolls\nmixed: 4 weeks\nday: {catalogue.today}\ninvented: yes\n"
        f"source: {{certainty: invented, checked: {catalogue.today}}}"
    )
