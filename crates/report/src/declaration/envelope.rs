//! A signed statement: the envelope of DSSE 1.0.

use super::wire::{EnvelopeWire, SignatureWire};
use crate::json::pretty;
use base64::Engine as _;
use base64::engine::general_purpose::{STANDARD, URL_SAFE};
use sumpwright_core::confirm::{Envelope, PAYLOAD_TYPE};

/// How many bytes an ed25519 signature has (RFC 8032).
const SIGNATURE_BYTES: usize = 64;

/// The envelope of a statement with one signature, as the signing program wrote it: its bytes, or base64 of them.
///
/// # Errors
/// Says in a sentence without a stop why it is no signature.
pub fn envelope(statement: &[u8], signature: &[u8], key_id: &str) -> Result<String, String> {
    let signature = if signature.len() == SIGNATURE_BYTES {
        signature.to_vec()
    } else {
        let text: String = String::from_utf8_lossy(signature).split_whitespace().collect();
        decoded(&text).filter(|bytes| bytes.len() == SIGNATURE_BYTES).ok_or_else(|| {
            format!("an ed25519 signature has {SIGNATURE_BYTES} bytes, and this is none, nor base64 of one")
        })?
    };
    Ok(pretty(&EnvelopeWire {
        payload_type: PAYLOAD_TYPE.to_owned(),
        payload: STANDARD.encode(statement),
        signatures: vec![SignatureWire {
            keyid: key_id.to_owned(),
            sig: STANDARD.encode(signature),
        }],
    }))
}

/// Reads an envelope; whose its signatures are is not looked at here.
///
/// # Errors
/// Says in a sentence without a stop what it is instead.
pub fn read_envelope(bytes: &[u8]) -> Result<Envelope, String> {
    let read: EnvelopeWire =
        serde_json::from_slice(bytes).map_err(|error| format!("it is no envelope: {error}"))?;
    let payload = decoded(&read.payload).ok_or("its payload is no base64")?;
    let signatures: Option<Vec<Vec<u8>>> =
        read.signatures.iter().map(|signature| decoded(&signature.sig)).collect();
    let signatures = signatures.ok_or("a signature in it is no base64")?;
    Ok(Envelope { payload_type: read.payload_type, payload, signatures })
}

/// DSSE takes either alphabet.
fn decoded(text: &str) -> Option<Vec<u8>> {
    STANDARD.decode(text).or_else(|_| URL_SAFE.decode(text)).ok()
}
