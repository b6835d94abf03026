"""What is kept. One noun a class; each module one part of the journey."""

from reviews.models.answers import Answer, Opening
from reviews.models.asides import SetAside
from reviews.models.audit import AuditLine
from reviews.models.briefs import Addendum, Brief, HandInItem, TargetLine
from reviews.models.changes import Change
from reviews.models.crit_day import (
    Attendance,
    CalendarLink,
    ClockEntry,
    Crossing,
    Duty,
    JudgedChoice,
    KeptOrder,
    OrderBreak,
    PaperSheets,
    RoomLink,
)
from reviews.models.crits import Crit, Criterion
from reviews.models.jury import Comment, Correction, FormerSheet, JurySheet, LevelGiven
from reviews.models.mails import Mail, UnwantedMail
from reviews.models.operations import Archived, Tally
from reviews.models.packages import Package, Row, Sheet
from reviews.models.people import Person
from reviews.models.pictures import DrawingKind, Original, PictureChange, SheetFile
from reviews.models.revisions import (
    IssuedCheckSheet,
    IssuedPackage,
    IssuedSheet,
    Revision,
    StoredFinding,
)
from reviews.models.seats import Interest, Seat, Slot
from reviews.models.sent_pictures import SentPicture
from reviews.models.spoken import ChangedLevel, Phrase, PrivateNote, SpokenNote
from reviews.models.studio_days import (
    AddendumOpened,
    Adjustment,
    BriefQuestion,
    DeskCrit,
    NextStep,
    Option,
    QuietNote,
)
from reviews.models.studios import Membership, Scheme, Studio

__all__ = [
    "Addendum",
    "AddendumOpened",
    "Adjustment",
    "Answer",
    "Archived",
    "Attendance",
    "AuditLine",
    "Brief",
    "BriefQuestion",
    "CalendarLink",
    "Change",
    "ChangedLevel",
    "ClockEntry",
    "Comment",
    "Correction",
    "Crit",
    "Criterion",
    "Crossing",
    "DeskCrit",
    "DrawingKind",
    "Duty",
    "FormerSheet",
    "HandInItem",
    "Interest",
    "IssuedCheckSheet",
    "IssuedPackage",
    "IssuedSheet",
    "JudgedChoice",
    "JurySheet",
    "KeptOrder",
    "LevelGiven",
    "Mail",
    "Membership",
    "NextStep",
    "Opening",
    "Option",
    "OrderBreak",
    "Original",
    "Package",
    "PaperSheets",
    "Person",
    "Phrase",
    "PictureChange",
    "PrivateNote",
    "QuietNote",
    "Revision",
    "RoomLink",
    "Row",
    "Scheme",
    "Seat",
    "SentPicture",
    "SetAside",
    "Sheet",
    "SheetFile",
    "Slot",
    "SpokenNote",
    "StoredFinding",
    "Studio",
    "Tally",
    "TargetLine",
    "UnwantedMail",
]
