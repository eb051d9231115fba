"""The socket that the server listens on."""

import socket

from strutwright.web.serve import _listen


def test_small_answers_do_not_wait_for_others():
    """asyncio sends at once only on sockets that are named as TCP; else 40 ms go by."""
    listening = _listen("127.0.0.1", 0)
    assert listening.proto == socket.IPPROTO_TCP
    listening.close()
