"""What numba does more than it must for functions that call one another, left out.

As numba has it, a function is optimised, made into machine code and given a way in from Python
when it is first called, wherever that is, and all of it again within each of its callers. Here
what only kernels call gets no way in and no machine code of its own, and what is told to be passed
on is optimised by those it is passed on to. Nothing of this changes what a function computes.
"""

from collections.abc import Callable
from types import FunctionType
from typing import Any, ClassVar

import numba
from llvmlite import binding
from numba.core import targetconfig, types
from numba.core.codegen import JITCodeLibrary
from numba.core.compiler import Compiler, Flags

# arguments of which a function makes the same whenever it is asked
PLAIN = types.Number, types.Boolean, types.Array, types.BaseTuple, types.SliceType
ENVIRONMENT = "_ZN08NumbaEnv"  # how numba's names of a function's environment begin


class _Flags(Flags):
    """Flags that are one object for all functions of a kind, so that two need no comparing.

    numba looks them up, all forty, at each call of one of its own functions.
    """

    __slots__ = ()
    kinds: ClassVar[dict[str, Flags]] = {}

    def copy(self) -> Flags:
        """Return those of its kind; a copy of these is one's own, as with numba's."""
        return self.kinds.setdefault(self.summary(), Flags(self))


class KernelCompiler(Compiler):
    """numba's own compiler, with such flags."""

    def __init__(self, *arguments: Any) -> None:
        """Take what numba hands its compiler."""
        super().__init__(*arguments)
        self.state.flags = _Flags(self.state.flags)


def _asked_once(search: Callable[..., Any]) -> Callable[..., Any]:
    """Return numba's search for what a function makes of arguments, done once for each kind.

    It tries, at every index into an array, what strings, lists and dictionaries would make of it:
    a quarter of all compiling. Of numbers, arrays and tuples of them the answer stays the same.
    """
    found: dict[tuple[Any, ...], tuple[Any, ...]] = {}

    def asked(self: Any, context: Any, args: Any, kws: Any) -> Any:
        if kws or not all(isinstance(one, PLAIN) for one in args):
            return search(self, context, args, kws)
        flags = targetconfig.ConfigStack.top_or_none()
        key = (id(self), id(context), id(flags), *args)
        if key not in found:  # all three are kept, so that none of them gives up its id
            found[key] = search(self, context, args, kws), self, context, flags
        return found[key][0]

    return asked


types.BaseFunction.get_call_type = _asked_once(  # type: ignore[method-assign]
    types.BaseFunction.get_call_type
)


class _Inner(JITCodeLibrary):
    """Code that its callers take into theirs: no machine code of its own.

    What they take is what was optimised, not what making machine code would leave of it: so callers
    are the same to the last bit, whether this was compiled just before or read from the cache.
    """

    def _finalize_final_module(self) -> None:
        """Keep what callers link, and make machine code of nothing but its environment's place."""
        self._finalized = True
        self._get_module_for_linking()
        self._finalized = False
        whole, empty = self._final_module, str(self._codegen._create_empty_module(self.name))
        for variable in whole.global_variables:
            if variable.name.startswith(ENVIRONMENT):
                empty += f'\n@"{variable.name}" = common global i64 0\n'
        self._final_module = binding.parse_assembly(empty)
        self._final_module.name = whole.name
        super()._finalize_final_module()


class _PassedOn(_Inner):
    """Such code as it was lowered: not optimised either."""

    def _optimize_final_module(self) -> None:
        """Leave it to the callers."""


class InnerCompiler(KernelCompiler):
    """The compiler of functions that only kernels call."""

    library: ClassVar[type[_Inner]] = _Inner

    def compile_extra(self, func: Any) -> Any:
        """Compile ``func`` into a library of that kind."""
        library = self.library(self.state.targetctx.codegen(), func.__qualname__)
        library.enable_object_caching()
        self.state.library = library
        return super().compile_extra(func)


class PassingOn(InnerCompiler):
    """The compiler of functions that are passed on."""

    library = _PassedOn


def within(
    function: Callable[..., Any], passed_on: bool, borrowing: bool, options: dict[str, Any]
) -> Any:
    """Return a function as other kernels call it, without a way in from Python.

    ``passed_on`` and ``borrowing`` as of `sim.core.kernel`.
    """
    inner = FunctionType(
        function.__code__, function.__globals__, function.__name__, function.__defaults__,
        function.__closure__,
    )  # fmt: skip
    inner.__qualname__ = f"{function.__qualname__}.within"
    inner.__module__ = function.__module__
    chosen = {
        "no_cpython_wrapper": True,
        "pipeline_class": PassingOn if passed_on else InnerCompiler,
        "_nrt": not borrowing,  # numba's run time, which counts references
    }
    dispatcher = numba.njit(**options | chosen)(inner)

    def keep(compiled: Any) -> None:
        dispatcher.overloads[tuple(compiled.signature.args)] = compiled

    dispatcher.add_overload = keep
    return dispatcher


def called_within(dispatcher: Any, inner: Any) -> None:
    """Let kernels that call ``dispatcher`` find ``inner``; constants count as any number."""

    def template(arguments: Any, named: Any) -> Any:
        return inner.get_call_template(
            [types.unliteral(one) for one in arguments],
            {name: types.unliteral(one) for name, one in named.items()},
        )

    dispatcher.within = inner
    dispatcher.get_call_template = template
    dispatcher.get_overload = inner.get_overload


def closed(dispatcher: Any) -> None:
    """Make a call from Python of a function without a way in an error, not a crash."""

    def refuse(*_: Any, **__: Any) -> None:
        raise TypeError(f"{dispatcher.__name__} has no way in from Python: only kernels call it")

    dispatcher._compile_for_args = refuse
