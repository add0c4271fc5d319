"""The brand: name, contact, colours, fonts, logo, legal text, paper and theme."""

from builder.brand.model import Brand, BrandFile, Colours, Contact, FontFile, Legal

__all__ = ["Brand", "BrandFile", "Colours", "Contact", "FontFile", "Legal"]
