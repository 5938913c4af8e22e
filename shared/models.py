"""What Django finds of this app, and the fields and bases the others use."""

from shared.audit.models import Entry
from shared.files.models import Attachment, StoredFile
from shared.numbering import Counter
from shared.offline.models import FieldVersion, Write
from shared.outbox.models import DeliveryAttempt, Message
from shared.records import (
    AppendOnlyQuerySet,
    Archivable,
    ArchivableQuerySet,
    Identified,
    LedgerIsAppendOnlyError,
    LengthField,
    MoneyField,
)

__all__ = [
    "AppendOnlyQuerySet",
    "Archivable",
    "ArchivableQuerySet",
    "Attachment",
    "Counter",
    "DeliveryAttempt",
    "Entry",
    "FieldVersion",
    "Identified",
    "LedgerIsAppendOnlyError",
    "LengthField",
    "Message",
    "MoneyField",
    "StoredFile",
    "Write",
]
