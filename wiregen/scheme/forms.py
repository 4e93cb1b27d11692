"""What every table of a scheme file is: its short form is widened before validation, and unknown keys are errors."""

from functools import cache
from typing import Any, ClassVar

from pydantic import BaseModel, ConfigDict, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema


class Model(BaseModel):
    """Frozen; unknown keys are errors. ``short`` names the field that a bare text stands for."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True, defer_build=True)
    short: ClassVar[str] = ""

    @classmethod
    def widen(cls, value: Any) -> Any:
        """The long form of ``value``; what has no short form is returned as it is."""
        return {cls.short: value} if cls.short and isinstance(value, str) else value

    @classmethod
    @cache
    def key_fields(cls) -> dict[str, str]:
        """Every key as it is written in a file, and the field it fills."""
        return {field.alias or name: name for name, field in cls.model_fields.items()}

    @model_validator(mode="before")
    @classmethod
    def _long_form(cls, value: Any) -> Any:
        return cls.widen(value)

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        schema = handler.resolve_ref_schema(handler(core))
        if cls.short and "anyOf" not in schema:
            whole = dict(schema)
            schema.clear()
            schema["anyOf"] = [whole["properties"][cls.short], whole]
        return schema
