"""The live pages: a general-purpose page server over the notebooks, bound to this machine, set to one job.

Nothing is taken from the job's folder but the job file itself: notebooks, settings and code are the book's.
"""

from __future__ import annotations

import asyncio
import contextlib
import math
import secrets
import webbrowser
from pathlib import Path
from typing import Any

from jupyter_server.auth.identity import IdentityProvider
from jupyter_server.base.handlers import JupyterHandler
from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager
from tornado import web
from tornado.ioloop import IOLoop
from traitlets.config import Config
from voila.app import Voila
from voila.tornado.handler import TornadoVoilaHandler

from calcbook.command.copies import notebooks_folder
from calcbook.command.kernel import OnlyBook
from calcbook.command.opened import ASKED, TAKEN, Jobs, Opened
from calcbook.paper.contents import PAGES, neighbors

# pages that live at once; one that was not looked at for longest ends, and comes back when shown
_MOST = 4
# seconds in which a page comes to life, though its process may have waited long before: a busy machine takes a minute
_COMING = 120.0
# seconds after which the next one is made ready, should the page not say before that it is whole
_LATEST = 10.0
_HERE: Any = ""  # the folder of the notebooks
_POLICY = (
    "default-src 'self'; script-src 'self' 'unsafe-inline' 'unsafe-eval'; style-src 'self' 'unsafe-inline'; "
    "img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self'; frame-ancestors 'self'; form-action 'self'"
)


class WarmKernels(AsyncMappingKernelManager):
    """Processes behind pages: one waits ready, and no more than a few live."""

    _spare: asyncio.Task[str] | None = None
    _of: Opened | None = None  # whose job the one that waits has

    async def start_kernel(self, *, kernel_id: Any = None, path: Any = None, **kwargs: Any) -> str:  # type: ignore[override]
        """The one that waits, or where there is none for this job a new one; then another is made ready."""
        kwargs.pop("env", None)  # of the request: a page does not need it
        job = ASKED.get()
        await self._end_spare_of_others(job)
        waiting, self._spare = self._spare, None
        found = None
        if waiting is not None:
            with contextlib.suppress(Exception):  # it did not come up: a new one will, or says why
                found = await waiting
        if found is None or found not in self:
            found = await super().start_kernel(path=_HERE, env=job.environment, **kwargs)
        TAKEN.get().append(found)
        self.shown[found] = asyncio.get_running_loop().time()
        asyncio.get_running_loop().call_later(_LATEST, self.warm, job)
        await self._end_oldest(found)
        return found

    def warm(self, job: Opened) -> None:
        """Make one ready for the next page of a job."""
        if self._spare is None:
            self._of = job
            self._spare = asyncio.ensure_future(
                super().start_kernel(path=_HERE, kernel_name="python3", env=job.environment)
            )

    async def _end_spare_of_others(self, job: Opened) -> None:
        if self._spare is not None and self._of is not job:
            waiting, self._spare = self._spare, None
            with contextlib.suppress(Exception):  # it did not come up, or has ended by itself
                await self.shutdown_kernel(await waiting, now=True)

    async def cull_kernel_if_idle(self, kernel_id: str) -> None:
        """End one that has no page any more, but neither the one that waits nor one whose page is on its way."""
        since = asyncio.get_running_loop().time() - self.shown.get(kernel_id, -math.inf)
        if kernel_id != self._spare_id() and since > _COMING:
            await super().cull_kernel_if_idle(kernel_id)

    async def leave(self, kernel: str) -> None:
        """End one whose page nobody waits for."""
        with contextlib.suppress(Exception):  # it has ended by itself
            await self.shutdown_kernel(kernel, now=True)

    def _spare_id(self) -> str | None:
        done = self._spare is not None and self._spare.done() and not self._spare.exception()
        return self._spare.result() if done and self._spare else None

    async def _end_oldest(self, new: str) -> None:
        others = [k for k in self.list_kernel_ids() if k not in (new, self._spare_id())]
        others.sort(key=lambda k: self.shown.get(k, 0.0))
        for kernel_id in others[: max(0, len(others) - (_MOST - 1))]:
            await self.leave(kernel_id)

    @property
    def shown(self) -> dict[str, float]:
        """When each was last seen on a page that is looked at."""
        return self.__dict__.setdefault("_shown", {})


class Asked(JupyterHandler):
    """What is asked of one job."""

    def job(self, name: str | None) -> Opened:
        """The job of that name, the first without one; whoever looks at it has it followed."""
        jobs: Jobs = self.settings["jobs"]
        found = jobs.named(name)
        if found is None:
            raise web.HTTPError(404)
        jobs.looked_at(found)
        return found


class PageHandler(TornadoVoilaHandler, Asked):
    """A page of the book under its short address; where the job cannot be read, what is wrong with it."""

    @web.authenticated
    async def get(self, name: str | None = None, path: str | None = None) -> None:
        """Write the page."""
        if (
            "token" in self.request.arguments
        ):  # it is in the cookie now and need not stay in the address
            self.redirect(self.request.path)
            return
        stem = path or PAGES[0].stem
        if stem not in [page.stem for page in PAGES]:
            raise web.HTTPError(404)
        _ = self.xsrf_token  # puts it into a cookie, without which the page cannot say that it is left
        job = self.job(name)
        ASKED.set(job)
        self.taken: list[str] = []
        TAKEN.set(self.taken)
        if job.state.problem():
            self.set_header("Content-Type", "text/html; charset=utf-8")
            template = self.settings["voila_jinja2_env"].get_template("problem.html.j2")
            self.finish(template.render(**about(stem), base=job.base, state=job.state.quick()))
            return
        async for html in self.get_generator(path=f"{stem}.ipynb"):
            self.write(html)
            self.flush()

    def on_connection_close(self) -> None:
        """The reader has gone before all of the page was there: nobody waits for the rest of it."""
        super().on_connection_close()
        kernels: WarmKernels = self.settings["kernel_manager"]
        for kernel in () if self._finished else getattr(self, "taken", ()):
            IOLoop.current().add_callback(kernels.leave, kernel)


def about(stem: str) -> dict[str, Any]:
    """What the head of a page says of the book."""
    before, after = neighbors(stem)
    page = next(p for p in PAGES if p.stem == stem)
    return {"page": page._asdict(), "pages": [p._asdict() for p in PAGES],
            "before": before and before._asdict(), "after": after and after._asdict()}  # fmt: skip


def with_book(page_config: dict[str, Any], *, notebook_path: str, **_: Any) -> dict[str, Any]:
    """What the template of a page is given: for its head, how book and job stand."""
    stem = Path(notebook_path).stem
    job = ASKED.get()
    return {**page_config, "book": {**about(stem), "base": job.base, "state": job.state.quick()}}


class StateHandler(Asked):
    """How the job stands, asked by every page that is looked at."""

    @web.authenticated
    async def get(self, name: str | None = None) -> None:
        """Write the state as data; ``kernel`` names the page's own process."""
        kernels: WarmKernels = self.settings["kernel_manager"]
        job = self.job(name)
        kernel = self.get_argument("kernel", "")
        if kernel and kernel in kernels:
            kernels.shown[kernel] = asyncio.get_running_loop().time()
            if self.get_argument("whole", ""):
                kernels.warm(job)
        found = job.state.told()
        self.set_header("Cache-Control", "no-store")
        self.finish({**found, "alive": not kernel or kernel in kernels})


class NoDoor(web.RequestHandler):
    """What someone without the token sees."""

    def get(self) -> None:
        """Say where the address is."""
        self.set_status(403)
        self.finish(
            "Open the pages with the whole address that the terminal shows, from http to its end."
        )


class Pages(Voila):
    """The server of the pages; without settings of anyone else."""

    opens = True

    def load_config_file(self, *_: Any, **__: Any) -> None:  # type: ignore[override]
        """Read none."""

    def init_settings(self) -> dict[str, Any]:
        """Those of the server, for this machine only."""
        settings: dict[str, Any] = {
            **super().init_settings(),
            "jobs": Jobs.of_environment(),
            "allow_remote_access": False,
            "local_hostnames": ["localhost"],
            "headers": {"Content-Security-Policy": _POLICY},
            # names of files there follow from what they hold: a browser need not ask again
            "static_immutable_cache": ["/voila/labextensions/"],
        }
        return settings

    def init_handlers(self) -> list[Any]:
        """Pages and what they need; no list of files, no files, no other notebooks."""
        wanted = ("/api/kernels", "/voila/templates", "/voila/static", "/voila/api/themes", "/voila/api/shutdown",
                  "/voila/labextensions")  # fmt: skip
        kept = [handler for handler in super().init_handlers() if handler[0].startswith(wanted)]
        page = {"template_paths": self.template_paths, "config": self.config,
                "voila_configuration": self.voila_configuration}  # fmt: skip
        stems = "|".join(p.stem for p in PAGES)
        return [
            *kept,
            ("/state", StateHandler),
            ("/of/([^/]+)/state", StateHandler),
            ("/login", NoDoor),
            (f"/(?:of/([^/]+)/)?({stems})?", PageHandler, page),
        ]

    def launch_browser(self) -> None:
        """Tell the address, open it where asked to, and make the first process ready."""
        address = f"http://127.0.0.1:{self.port}/?token={self.token}"
        print(f"Pages:     {address}", flush=True)
        asyncio.get_event_loop().set_exception_handler(_unless_left)
        jobs: Jobs = self.app.settings["jobs"]
        self.kernel_manager.warm(jobs.first)
        jobs.looked_at(jobs.first)
        if self.opens:
            webbrowser.open(address)


def _unless_left(loop: asyncio.AbstractEventLoop, context: dict[str, Any]) -> None:
    """What a page dies of whose reader left before it was there is no news."""
    if "put_html" not in repr(context.get("future")) or "died" not in str(context.get("exception")):
        loop.default_exception_handler(context)


def serve(port: int, browser: bool, token: str | None = None) -> None:
    """Serve the pages of the job named in the environment, until stopped."""
    config = Config()
    config.Voila = Config(
        root_dir=str(notebooks_folder()), ip="127.0.0.1", port=port, open_browser=True, log_level=40,
        token=token or secrets.token_urlsafe(24), identity_provider_class=IdentityProvider,
    )  # fmt: skip
    config.VoilaConfiguration = Config(
        template="calcbook", theme="light", allow_template_override="NO", allow_theme_override="NO",
        page_config_hook=with_book,
        multi_kernel_manager_class=WarmKernels, kernel_spec_manager_class=OnlyBook, http_keep_alive_timeout=60,
        extension_allowlist=["@jupyter-widgets/jupyterlab-manager", "@voila-dashboards/widgets-manager8"],
    )  # fmt: skip
    # drawings are large, and one that is dropped on its way is a page with a hole
    config.ZMQChannelsWebsocketConnection = Config(iopub_data_rate_limit=1e9, iopub_msg_rate_limit=1e6)
    config.MappingKernelManager = Config(cull_idle_timeout=120, cull_interval=20)
    config.ContentsManager = Config(root_dir=str(notebooks_folder()))
    pages = Pages(config=config)
    pages.opens = browser
    pages.initialize([])
    pages.start()
