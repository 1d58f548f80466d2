"""Pages: one module, one template, one address for each."""

from __future__ import annotations

from fastapi import APIRouter

from waney.web.pages import (
    binding,
    boule,
    commands,
    costs,
    cuts,
    day,
    handing,
    lists,
    load,
    load_papers,
    load_plan,
    loads,
    log,
    logs,
    mill,
    offer,
    offered,
    papers,
    photos,
    piece,
    pieces,
    plans,
    readings,
    scale,
    settings,
    sign_in,
    sources,
    spots,
    stacks,
    take_in,
    typed,
    week,
)

ROUTERS: tuple[APIRouter, ...] = tuple(
    module.router
    for module in (
        *(
            sign_in,
            week,
            offered,
            offer,
            logs,
            log,
            cuts,
            plans,
            scale,
            boule,
            day,
            typed,
            mill,
            commands,
            take_in,
            pieces,
            piece,
            spots,
            stacks,
            load_plan,
            handing,
            load_papers,
            load,
            loads,
            readings,
        ),
        *(papers, lists, binding, photos, settings, costs, sources),
    )
)
