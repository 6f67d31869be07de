//! The print preview: the sheets as they would be written, drawn into pixels by the writer of PNG files.

use std::fmt;
use std::sync::Arc;
use std::sync::mpsc::{Receiver, TryRecvError, channel};

use egui::{ColorImage, Pos2, Rect, TextureHandle, TextureOptions, Vec2};
use layout_core::elevation::Project;

use crate::export::drawing::sheets_of;
use crate::export::raster::{Part, Raster};
use crate::services::Services;
use crate::sheet::{PaperPoint, Sheet};

/// The sheets with what is to be said of them, or why there are none.
type Answer = Result<(Vec<Sheet>, Option<String>), String>;

/// An open print preview.
pub struct Preview {
    incoming: Option<Receiver<Answer>>,
    sheets: Vec<Sheet>,
    /// Why there are no sheets.
    pub error: Option<String>,
    /// What is to be said of the sheets: that the logo is left out.
    pub warning: Option<String>,
    /// Which sheet is shown.
    pub page: usize,
    /// Whether the whole sheet is shown.
    pub fit: bool,
    /// Points of the screen in a millimetre of paper.
    zoom: f64,
    /// What of the sheet is at the upper left of the view, mm.
    corner: PaperPoint,
    raster: Raster,
    seen: Option<(Seen, TextureHandle)>,
}

/// What the picture on the screen shows.
type Seen = (usize, Part);

impl fmt::Debug for Preview {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Preview")
            .field("page", &self.page)
            .field("sheets", &self.sheets.len())
            .finish_non_exhaustive()
    }
}

/// Least and largest zoom, points in a millimetre.
const ZOOMS: (f64, f64) = (0.3, 40.0);

impl Preview {
    /// Draws a project's sheets on a thread of its own, as the firm has them.
    #[must_use]
    pub fn start(project: &Arc<Project>, services: &Arc<dyn Services>, ctx: &egui::Context) -> Self {
        let (send, incoming) = channel();
        let (project, services, ctx) = (Arc::clone(project), Arc::clone(services), ctx.clone());
        std::thread::spawn(move || {
            let sheets = services
                .sheet_options()
                .and_then(|(options, warning)| sheets_of(&project, &options).map(|sheets| (sheets, warning)));
            // The preview may be closed by now.
            let _ = send.send(sheets);
            ctx.request_repaint();
        });
        Self {
            incoming: Some(incoming),
            sheets: Vec::new(),
            error: None,
            warning: None,
            page: 0,
            fit: true,
            zoom: 1.0,
            corner: (0.0, 0.0),
            raster: Raster::default(),
            seen: None,
        }
    }

    /// Takes the sheets when they are there.
    pub fn receive(&mut self) {
        let Some(incoming) = &self.incoming else { return };
        match incoming.try_recv() {
            Ok(Ok((sheets, warning))) => (self.sheets, self.warning) = (sheets, warning),
            Ok(Err(message)) => self.error = Some(message),
            Err(TryRecvError::Empty) => return,
            Err(TryRecvError::Disconnected) => {
                self.error = Some("the drawing could not be made; the program is at fault".to_owned());
            }
        }
        self.incoming = None;
    }

    /// Whether the sheets are still being drawn.
    #[must_use]
    pub fn waits(&self) -> bool {
        self.incoming.is_some()
    }

    /// The sheets.
    #[must_use]
    pub fn sheets(&self) -> &[Sheet] {
        &self.sheets
    }

    /// Goes to another sheet; nothing where there is none.
    pub fn turn_to(&mut self, page: usize) {
        if page < self.sheets.len() && page != self.page {
            self.page = page;
            self.fit = true;
        }
    }

    /// Zooms about a place of the view.
    pub fn zoom_about(&mut self, factor: f64, at: Pos2, view: Rect) {
        let place = self.to_paper(at, view);
        self.zoom = (self.zoom * factor).clamp(ZOOMS.0, ZOOMS.1);
        let (dx, dy) = (f64::from(at.x - view.left()), f64::from(at.y - view.top()));
        self.corner = (place.0 - dx / self.zoom, place.1 + dy / self.zoom);
        self.fit = false;
    }

    /// Moves the sheet under the view.
    pub fn drag(&mut self, by: Vec2) {
        self.corner.0 -= f64::from(by.x) / self.zoom;
        self.corner.1 += f64::from(by.y) / self.zoom;
        self.fit = false;
    }

    /// The place of the sheet at a place of the view, mm.
    #[must_use]
    pub fn to_paper(&self, at: Pos2, view: Rect) -> PaperPoint {
        let (dx, dy) = (f64::from(at.x - view.left()), f64::from(at.y - view.top()));
        (self.corner.0 + dx / self.zoom, self.corner.1 - dy / self.zoom)
    }

    /// The picture for a view; drawn anew only where it shows something else than before.
    pub fn picture(&mut self, view: Rect, ctx: &egui::Context) -> Option<&TextureHandle> {
        let sheet = self.sheets.get(self.page)?;
        let (width, height) = (f64::from(view.width()), f64::from(view.height()));
        if self.fit {
            self.zoom = (width / sheet.width).min(height / sheet.height).max(ZOOMS.0 / 10.0) * 0.98;
            self.corner =
                (sheet.width / 2.0 - width / self.zoom / 2.0, sheet.height / 2.0 + height / self.zoom / 2.0);
        }
        // As many pixels as the screen has, as far as a texture goes.
        let side = ctx.input(|i| i.max_texture_side) as f64;
        let scale = f64::from(ctx.pixels_per_point()).min(side / width.max(1.0)).min(side / height.max(1.0));
        let size = ((width * scale).floor() as u32, (height * scale).floor() as u32);
        let part = Part { corner: self.corner, per_mm: self.zoom * scale, size };
        let wanted = (self.page, part);
        if self.seen.as_ref().is_none_or(|(seen, _)| *seen != wanted) {
            let pixels = self.raster.draw(sheet, &part)?;
            let image = ColorImage::from_rgba_premultiplied([size.0 as usize, size.1 as usize], &pixels);
            match &mut self.seen {
                Some((seen, texture)) => {
                    texture.set(image, TextureOptions::LINEAR);
                    *seen = wanted;
                }
                None => {
                    self.seen =
                        Some((wanted, ctx.load_texture("print preview", image, TextureOptions::LINEAR)));
                }
            }
        }
        self.seen.as_ref().map(|(_, texture)| texture)
    }
}
