"""The few kinds of label: heading, plain and quiet words, the warning, and the line of danger."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget


def heading_label(parent: QWidget, object_name: str, text: str) -> QLabel:
    """Return a heading."""
    return _label(parent, object_name, text, "heading")


def quiet_label(parent: QWidget, object_name: str, text: str = "") -> QLabel:
    """Return words that stand back."""
    return _label(parent, object_name, text, "quiet")


def plain_label(parent: QWidget, object_name: str, text: str = "") -> QLabel:
    """Return words like any others."""
    return _label(parent, object_name, text, "plain")


def warning_label(parent: QWidget, object_name: str, text: str = "") -> QLabel:
    """Return a line not to be missed that is no danger."""
    return _label(parent, object_name, text, "warning")


def danger_label(parent: QWidget, object_name: str, text: str) -> QLabel:
    """Return a line of danger."""
    return _label(parent, object_name, text, "danger")


def _label(parent: QWidget, object_name: str, text: str, kind: str) -> QLabel:
    label = QLabel(text, parent)
    label.setObjectName(object_name)
    label.setProperty(kind, "true")
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
    policy.setHeightForWidth(True)
    label.setSizePolicy(policy)
    return label
