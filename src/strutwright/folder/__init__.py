"""The kit folder: everything a workshop needs of one kit, written whole or not at all."""

from strutwright.folder.kit import kit_files, write_kit
from strutwright.folder.write import check_target, write_files

__all__ = ["check_target", "kit_files", "write_files", "write_kit"]
