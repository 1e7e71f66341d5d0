"""The photos of a guide: what is published of each, and which of them stand at a place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.guide.page import PhotoView
from generator.guide.vehicle import GUIDES, Vehicle
from generator.profile.guide_model import Photo
from generator.profile.model import Obstacle
from generator.profile.photo_file import PhotoFile
from generator.profile.sensor_model import Sensor

FOLDER = "photos"
RECIPE = 1
"""Raised when pictures are made otherwise than before, so that none is taken for another."""

SQUARES_PX = (480, 960)
"""The squares that the two sizes of a picture fit in: a phone's width, and a sharp phone's."""

MODERN, FALLBACK = "webp", "jpg"


@dataclass(frozen=True, slots=True)
class Picture:
    """One published file of a photo."""

    name: str
    width_px: int
    height_px: int
    kind: str


def pictures(photo: PhotoFile) -> tuple[Picture, ...]:
    """The files that are made of a photo: each width in a modern kind, the widest as a fallback."""
    sizes = dict.fromkeys(_fitted(photo, square_px) for square_px in SQUARES_PX)
    made = [_picture(photo, size, MODERN) for size in sizes]
    return (*made, _picture(photo, next(reversed(sizes)), FALLBACK))


def picture_path(slug: str, name: str) -> str:
    """Where a picture stands in the site: with the pages of its vehicle."""
    return f"{GUIDES}/{slug}/{FOLDER}/{name}"


def photos_at(vehicle: Vehicle, way: str) -> tuple[PhotoView, ...]:
    """The photos that stand at a place, in the order of the profile."""
    return tuple(_view(photo, file) for photo, file in published_photos(vehicle) if photo.at == way)


def sensor_way(sensor: Sensor) -> str:
    """The way to a sensor, as a photo names it."""
    return f"sensors.bank-{sensor.bank}-position-{sensor.position}"


def sensor_photos(vehicle: Vehicle, sensor: Sensor) -> tuple[PhotoView, ...]:
    """The photos of a sensor itself."""
    return photos_at(vehicle, sensor_way(sensor)) if vehicle.photos else ()


def plug_photos(vehicle: Vehicle, sensor: Sensor, part: str = "") -> tuple[PhotoView, ...]:
    """The photos of a sensor's connector where it hangs; of its `holder` or `latch`, if asked."""
    if not vehicle.photos:
        return ()
    way = f"{sensor_way(sensor)}.connector"
    return photos_at(vehicle, f"{way}.{part}" if part else way)


def face_photos(vehicle: Vehicle, sensor: Sensor) -> tuple[PhotoView, ...]:
    """The photos of the face of a sensor's connector, which other sensors may share."""
    if not vehicle.photos or sensor.connector is None:
        return ()
    return photos_at(vehicle, f"connectors.{sensor.connector.face}")


def obstacle_photos(vehicle: Vehicle, obstacle: Obstacle, step: str = "") -> tuple[PhotoView, ...]:
    """The photos of an obstacle, or of one of its steps, such as ``steps.2``."""
    if not vehicle.photos:
        return ()
    name = next(key for key, each in vehicle.profile.obstacles.items() if each is obstacle)
    return photos_at(vehicle, f"obstacles.{name}.{step}" if step else f"obstacles.{name}")


def published_photos(vehicle: Vehicle) -> Iterator[tuple[Photo, PhotoFile]]:
    """Every photo of a vehicle that is published, with what is known of its file.

    A photo whose file was not read, because only a text was, is none of them.
    """
    for photo in vehicle.profile.photos:
        if photo.file in vehicle.photos:
            yield photo, vehicle.photos[photo.file]


def _view(photo: Photo, file: PhotoFile) -> PhotoView:
    *modern, fallback = pictures(file)
    return PhotoView(
        sources=", ".join(f"{FOLDER}/{each.name} {each.width_px}w" for each in modern),
        fallback=f"{FOLDER}/{fallback.name}",
        small=f"{FOLDER}/{modern[0].name}",
        width=fallback.width_px,
        height=fallback.height_px,
        caption=photo.caption,
        shows=photo.shows,
    )


def _fitted(photo: PhotoFile, square_px: int) -> tuple[int, int]:
    """The size in pixels that fits a square; never larger than the photo is."""
    scale = min(1.0, square_px / max(photo.width_px, photo.height_px))
    return max(1, round(photo.width_px * scale)), max(1, round(photo.height_px * scale))


def _picture(photo: PhotoFile, size: tuple[int, int], kind: str) -> Picture:
    return Picture(f"{photo.key}-{RECIPE}-{size[0]}.{kind}", *size, kind)
