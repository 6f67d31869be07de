//! json.
