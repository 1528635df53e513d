import '../look.css';
import { createRoot } from 'react-dom/client';
import { Gallery } from './Gallery.tsx';

const place = document.getElementById('app');
if (place) createRoot(place).render(<Gallery />);
