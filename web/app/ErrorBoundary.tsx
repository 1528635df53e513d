import { Component, type ReactNode } from 'react';
import { Note } from '../ui/Note.tsx';

interface ErrorBoundaryProps {
  readonly sentence: string;
  readonly wayOut: string;
  readonly children: ReactNode;
}

/** A screen that breaks down does not take the page with it. */
export class ErrorBoundary extends Component<ErrorBoundaryProps, { broken: boolean }> {
  override state = { broken: false };

  static getDerivedStateFromError() {
    return { broken: true };
  }

  override render() {
    if (!this.state.broken) return this.props.children;
    return (
      <div className="stack" role="alert">
        <Note kind="stop">{this.props.sentence}</Note>
        <button type="button" className="button" onClick={() => this.setState({ broken: false })}>
          {this.props.wayOut}
        </button>
      </div>
    );
  }
}
