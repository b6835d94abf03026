"""What is kept. One noun a class; each module one part of the journey."""

from reviews.models.after import (
    Appeal,
    AppealWords,
    Closing,
    Consent,
    Conversation,
    FormerAnswer,
    JurorLetter,
    SecondLook,
)
from reviews.models.answers import Answer, Opening
from reviews.models.asides import SetAside
from reviews.models.audit import AuditLine
from reviews.models.briefs import Addendum, Brief, HandInItem, TargetLine
from reviews.models.brought import BroughtFile
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
from reviews.models.evidence import EvidenceBook, MappedStandard
from reviews.models.jury import Comment, Correction, FormerSheet, JurySheet, LevelGiven
from reviews.models.mails import Mail, UnwantedMail
from reviews.models.moderated import (
    AgreedLevel,
    AlikeGroup,
    OpposedPair,
    OwnReleaseWords,
    ProofRead,
    ResultPapers,
    Rewording,
    Verdict,
)
from reviews.models.operations import Archived, Tally
from reviews.models.packages import Package, Row, Sheet
from reviews.models.people import Person
from reviews.models.pictures import DrawingKind, Original, PictureChange, SheetFile
from reviews.models.portfolios import Portfolio, PortfolioItem
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
from reviews.models.tokens import ScriptToken
from reviews.models.weather import WeatherFile

__all__ = [
    "Addendum",
    "AddendumOpened",
    "Adjustment",
    "AgreedLevel",
    "AlikeGroup",
    "Answer",
    "Appeal",
    "AppealWords",
    "Archived",
    "Attendance",
    "AuditLine",
    "Brief",
    "BriefQuestion",
    "BroughtFile",
    "CalendarLink",
    "Change",
    "ChangedLevel",
    "ClockEntry",
    "Closing",
    "Comment",
    "Consent",
    "Conversation",
    "Correction",
    "Crit",
    "Criterion",
    "Crossing",
    "DeskCrit",
    "DrawingKind",
    "Duty",
    "EvidenceBook",
    "FormerAnswer",
    "FormerSheet",
    "HandInItem",
    "Interest",
    "IssuedCheckSheet",
    "IssuedPackage",
    "IssuedSheet",
    "JudgedChoice",
    "JurorLetter",
    "JurySheet",
    "KeptOrder",
    "LevelGiven",
    "Mail",
    "MappedStandard",
    "Membership",
    "NextStep",
    "Opening",
    "OpposedPair",
    "Option",
    "OrderBreak",
    "Original",
    "OwnReleaseWords",
    "Package",
    "PaperSheets",
    "Person",
    "Phrase",
    "PictureChange",
    "Portfolio",
    "PortfolioItem",
    "PrivateNote",
    "ProofRead",
    "QuietNote",
    "ResultPapers",
    "Revision",
    "Rewording",
    "RoomLink",
    "Row",
    "Scheme",
    "ScriptToken",
    "Seat",
    "SecondLook",
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
    "Verdict",
    "WeatherFile",
]
