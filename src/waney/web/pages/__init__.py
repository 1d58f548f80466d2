"""Pages: one module, one template, one address for each."""

from __future__ import annotations

from fastapi import APIRouter

from waney.web.pages import (
    commands,
    day,
    log,
    logs,
    mill,
    offered,
    piece,
    pieces,
    plans,
    scale,
    settings,
    sign_in,
    sources,
    spots,
    take_in,
    week,
)

ROUTERS: tuple[APIRouter, ...] = tuple(
    module.router
    for module in (
        sign_in,
        week,
        offered,
        logs,
        log,
        plans,
        scale,
        day,
        mill,
        commands,
        take_in,
        pieces,
        piece,
        spots,
        settings,
        sources,
    )
)
