"""The store in a PostgreSQL database, for several server processes at once. `schema` says what lies where."""

from .postgres_store import PostgresStore

__all__ = ["PostgresStore"]
