"""The processes behind pages: which of them may be ended."""

import asyncio
from types import SimpleNamespace

from jupyter_server.services.kernels.kernelmanager import AsyncMappingKernelManager

from calcbook.command import server


def test_a_process_that_waited_long_is_not_ended_while_its_page_is_on_its_way(monkeypatch):
    ended = []

    async def end(self, kernel_id):
        ended.append(kernel_id)

    monkeypatch.setattr(AsyncMappingKernelManager, "cull_kernel_if_idle", end)

    async def look():
        kernels = server.WarmKernels()
        now = asyncio.get_running_loop().time()
        kernels.shown.update({"coming": now - 30, "left": now - server._COMING - 1})
        for kernel in ("coming", "left", "unknown"):
            await kernels.cull_kernel_if_idle(kernel)

    asyncio.run(look())
    assert ended == ["left", "unknown"]


def test_what_a_page_dies_of_whose_reader_left_is_no_news_and_all_else_is():
    told = []
    loop = SimpleNamespace(default_exception_handler=told.append)
    left = {"future": "<Task put_html()>", "exception": RuntimeError("Kernel died")}
    other = {"future": "<Task put_html()>", "exception": ValueError("no such name")}
    server._unless_left(loop, left)
    server._unless_left(loop, other)
    assert told == [other]
